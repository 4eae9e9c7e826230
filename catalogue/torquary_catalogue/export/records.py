"""JSON Lines: one record of setting.schema.json a line."""

from __future__ import annotations

from pathlib import Path

from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.settings import read_settings


def write_jsonl(catalogue: Catalogue, target: Path) -> int:
    """Write the settings in force, held and rejected ones with their state; return their number."""
    from torquary_schema.report import dump_json, setting_to_dict

    settings = read_settings(catalogue)
    with target.open("w", encoding="utf-8", newline="\n") as file:
        for setting in settings:
            file.write(dump_json(setting_to_dict(setting), indent=None) + "\n")
    return len(settings)
