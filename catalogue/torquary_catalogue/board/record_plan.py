"""What a plan in a file (JSON) says of one terminal, for an entry that is typed."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.written_forms import read_written


def look_up(path: Path, board: str, terminal: str) -> dict[str, str]:
    """Return driver, calibration, setting and source of a terminal in a plan (`plan.schema.json`).

    Raises `TorquaryError` (status 2) for a file that is no plan, or has no such terminal planned.
    """
    names = []
    for plan in (one for one in read_written(path, "plan")["plans"] if one["board"] == board):
        calibrated = {driver["driver"]: driver["calibrated"] or "" for driver in plan["drivers"]}
        for setting in plan["settings"]:
            for task in (task for batch in setting["batches"] for task in batch["tasks"]):
                names.append(task["terminal"]["name"])
                if task["terminal"]["name"] == terminal:
                    first = task["printed"][0]
                    return {
                        "driver": setting["driver"],
                        "calibrated": calibrated.get(setting["driver"], ""),
                        "set_nm": f"{Decimal(setting['value_nm']):f}",
                        "sheet": first["sheet"],
                        "setting": first["id"],
                    }
    known = "; ".join(names[:8]) or "nothing of this board"
    raise TorquaryError(
        f"{path} does not plan {terminal!r} of {board}: it has {known}", status=WRONG_USE
    )
