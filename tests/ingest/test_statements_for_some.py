"""What a sheet says of the metal of some terminals and devices alone, beside what it says of all."""

from __future__ import annotations

from pathlib import Path

from torquary_ingest.reader import read_sheet

TABLE = (
    "<table><tr><th>Terminal</th><th>AWG</th><th>Torque N·m</th></tr>"
    "<tr><td>Main lugs</td><td>6 – 2</td><td>6</td></tr>"
    "<tr><td>Output terminals</td><td>14 – 8</td><td>2</td></tr></table>"
)


def test_metals_of_terminals_named_alone(tmp_path: Path) -> None:
    sheet = tmp_path / "t.html"
    stated = "<p>Use copper conductors only. Main lugs: copper or aluminium.</p>"
    sheet.write_text(f"<h1>Panel QN 125</h1>{TABLE}{stated}", encoding="utf-8")
    metals = {one.terminal.printed: one.conductor.material for one in read_sheet(sheet).settings}
    assert metals == {"Main lugs": ("copper", "aluminium"), "Output terminals": ("copper",)}


def test_metals_of_a_type_excepted(tmp_path: Path) -> None:
    sheet = tmp_path / "t.html"
    row = "<p>Terminals 1-3-5: torque {} N·m</p>"
    stated = "<p>Use copper conductors only. Exception: the QN 80 takes aluminium too from 16 mm².</p>"
    cards = f"<h2>Switch QN 40</h2>{row.format(2)}<h2>Switch QN 80</h2>{row.format(4)}"
    sheet.write_text(f"<h1>Switches QN</h1>{stated}{cards}", encoding="utf-8")
    metals = {one.torque.printed: one.conductor.material for one in read_sheet(sheet).settings}
    assert metals == {"2 N·m": ("copper",), "4 N·m": ()}
