"""An office for tests: a folder with sheets, a catalogue, and the command."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result

from torquary_catalogue.command import main
from torquary_catalogue.store import open_catalogue

WHO = ("--who", "Ines", "--why", "seen on paper")
PAGE = (
    "<html><head><title>{title}</title></head><body><h1>{title}</h1><p>{line}</p><table><tr><th>Terminal</th>"
    "<th>Conductor mm²</th><th>Tightening torque N·m</th></tr>{rows}</table></body></html>"
)
ROW = "<tr><td>{terminal}</td><td>{size}</td><td>{torque}</td></tr>"


class Office:
    """Every command runs on the catalogue of the folder; `sheets` is where its sheets are."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.sheets = folder / "sheets"
        self.catalogue = folder / "office.duckdb"
        self.sheets.mkdir(exist_ok=True)

    def run(self, *arguments: object, status: int | None = None) -> Result:
        words = [*map(str, arguments), "--catalogue", str(self.catalogue)]
        done = CliRunner().invoke(main, words, catch_exceptions=False)
        assert status is None or done.exit_code == status, done.output
        return done

    def ask(self, *arguments: object) -> Any:
        """Return what a command says as JSON."""
        return json.loads(self.run(*arguments, "--json").stdout)

    def put(self, name: str, title: str, line: str = "", **torques: str) -> Path:
        """Write a sheet: its title, a line under it, and terminal → torque."""
        rows = "".join(ROW.format(terminal=terminal, size="4", torque=torque) for terminal, torque in torques.items())
        path = self.sheets / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(PAGE.format(title=title, line=line, rows=rows), "utf-8")
        return path

    def load(self, *paths: object) -> str:
        return self.run("load", *(paths or (self.sheets,))).stdout

    def figures(self, *question: str) -> dict[str, str]:
        """Return "file terminal" → the largest torque that a question is answered with."""
        rows = self.ask("find", *question)["rows"]
        return {f"{row['file']} {row['terminal_printed']}": f"{Decimal(str(row['max_nm'])):f}" for row in rows}

    def states(self) -> dict[str, str]:
        """Return file → state of each sheet."""
        return {one["file"]: one["state"] for one in self.ask("sheets")["sheets"]}

    def reading(self, terminal: str) -> str:
        """Return the id of the one setting in force of this terminal."""
        with open_catalogue(self.catalogue) as opened:
            query = "SELECT id FROM current_setting WHERE terminal_printed = ?"
            ((name,),) = [[*row.values()] for row in opened.rows(query, [terminal])]
        return str(name)
