"""JSON Lines: one record of setting.schema.json a line."""

from __future__ import annotations

from pathlib import Path

from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.settings import read_records


def write_jsonl(catalogue: Catalogue, target: Path) -> int:
    """Write the settings in force, held and rejected ones with their state; return their number."""
    from torquary_schema.report import dump_json, setting_to_dict

    count = 0
    with target.open("w", encoding="utf-8", newline="\n") as file:
        for setting, origin in read_records(catalogue):
            file.write(dump_json(setting_to_dict(setting) | origin, indent=None) + "\n")
            count += 1
    return count
