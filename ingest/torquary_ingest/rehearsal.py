"""Imported by the server that forks many workers: a small sheet is read there, and each worker finds its caches full.

Plug-ins of others are not used here: one that stops costs its sheet, not the server.
"""

from __future__ import annotations

import tempfile
from contextlib import suppress
from pathlib import Path

from torquary_ingest import reader
from torquary_ingest.extractors.headed import HeadedTables
from torquary_ingest.extractors.listed import KeyValueLists
from torquary_ingest.extractors.sentences import Sentences
from torquary_ingest.normalise import settle
from torquary_ingest.openers.delimited import DelimitedOpener
from torquary_ingest.opening import find_tables
from torquary_ingest.plugins import OpenWish
from torquary_ingest.profiles.face import look_at
from torquary_ingest.skeleton import make_skeleton
from torquary_schema.report import setting_to_dict
from torquary_schema.validation import check_record

__all__ = ["reader"]

_SHEET = "Main switch QS 63\nEdition 2\n\nTerminal;Conductor mm²;Torque N·m\nL1;1.5-16;2.5\nPE;4;2.0 ± 0.1 (18 lb-in)\n"


def rehearse() -> None:
    """Read a small sheet, as `one_sheet` does, by our own opener and extractors."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "sheet.csv")
        path.write_text(_SHEET, encoding="utf-8")
        opened = find_tables(DelimitedOpener().open(path, OpenWish()))
    document, tables = opened.document, opened.tables
    skeleton = make_skeleton(document, tables)
    look_at(document, tables, skeleton)
    readings = [
        reading
        for extractor in (HeadedTables(), KeyValueLists(), Sentences())
        for reading in extractor.readings(document, tables)
    ]
    for setting in settle(document, tables, tuple(readings), skeleton)[0]:
        check_record(setting_to_dict(setting))


# A fault here is told by the worker that meets it, with the sheet's name.
with suppress(Exception):
    rehearse()
