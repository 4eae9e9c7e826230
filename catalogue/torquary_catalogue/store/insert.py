"""Loading a sheet: one short transaction, in which the sheet is there whole or not at all."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

import duckdb

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.faces import KeptFace, write_face
from torquary_catalogue.store.names_given import apply_names
from torquary_catalogue.store.pictures import write_pictures
from torquary_catalogue.store.rows import FINDING_TYPES, SETTING_TYPES, finding_row, setting_row
from torquary_schema.values import Setting, SheetReport

_NAMES = "coalesce(r.maker, $maker), r.family, r.device_printed, r.series, r.model"

_INSERT_SETTINGS = f"""
INSERT INTO setting BY NAME
SELECT r.*,
    gauge_rank(r.min_awg) AS min_gauge,
    gauge_rank(r.max_awg) AS max_gauge,
    fold_names(concat_ws(' ', {_NAMES})) AS device_words,
    fold_names(r.terminal_printed) AS terminal_words,
    fold_names(concat_ws(' ', {_NAMES}, r.rated_current, r.terminal_printed, $title, $file)) AS all_words
FROM (SELECT unnest(from_json($rows::JSON, $types)) AS r)"""

_INSERT_FINDINGS = "INSERT INTO finding BY NAME SELECT r.* FROM (SELECT unnest(from_json($rows::JSON, $types)) AS r)"

_DROP_FIGURES = "min_nm = NULL, nominal_nm = NULL, max_nm = NULL"

# A decision made on this very content goes on to hold when the content is read again.
_DECIDE_AGAIN = """
UPDATE setting SET
    state = CASE WHEN d.verdict = 'reject' THEN 'rejected' ELSE 'released' END,
    min_nm = d.min_nm, nominal_nm = d.nominal_nm, max_nm = d.max_nm
FROM (SELECT * FROM decision WHERE sheet = $digest
      QUALIFY row_number() OVER (PARTITION BY setting ORDER BY decided_at DESC) = 1) AS d
WHERE setting.sheet = $digest AND setting.id = d.setting"""


class SheetNotStored(Exception):  # noqa: N818  (a fact, as in errors elsewhere)
    """Something in this sheet is none that a catalogue can hold, such as text that is not Unicode. Others go on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """What became of one report. `replaced` are the digests of the sheets that this one supersedes."""

    outcome: Literal["loaded", "unchanged", "refused"]
    replaced: tuple[str, ...] = ()


def load_report(
    catalogue: Catalogue,
    report: SheetReport,
    *,
    again: bool = False,
    beside: Iterable[str] = (),
    pictures: Mapping[str, bytes] | None = None,
    face: KeptFace | None = None,
) -> Loaded:
    """Write one sheet. The same content again changes nothing, unless `again` says to put this reading in.

    Another content of the same file name and maker supersedes the older one, except for the digests
    `beside`: sheets of the same load that only share a name. Decisions are never touched. `pictures` are PNGs
    by the id of their setting; `face` is what tells which layout profiles are for the sheet.

    Raises `SheetNotStored` when the catalogue does not take this sheet; it is then as it was before.
    """
    try:
        with catalogue.transaction():
            return _load(catalogue, report, again=again, beside=tuple(beside), pictures=pictures or {}, face=face)
    except (duckdb.DataError, duckdb.IntegrityError, duckdb.InvalidInputException, UnicodeEncodeError) as error:
        raise SheetNotStored(" ".join(str(error).split())[:160]) from None


def _load(
    catalogue: Catalogue,
    report: SheetReport,
    *,
    again: bool,
    beside: tuple[str, ...],
    pictures: Mapping[str, bytes],
    face: KeptFace | None,
) -> Loaded:
    run = catalogue.connection.execute
    held = run("SELECT state FROM sheet WHERE digest = ?", [report.digest]).fetchone()
    refused = report.state == "refused"
    if held is not None and held[0] != "refused" and (refused or not again or held[0] == "superseded"):
        return Loaded(outcome="unchanged")
    for table, column in (("finding", "sheet"), ("setting", "sheet"), ("sheet", "digest")):
        run(f"DELETE FROM {table} WHERE {column} = ?", [report.digest])
    replaced = () if refused else _supersede(catalogue, report, beside)
    run(
        "INSERT INTO sheet VALUES (?, ?, ?, ?, ?, ?, ?, (now() AT TIME ZONE 'UTC'), NULL)",
        [report.digest, report.file, report.state, report.title, report.maker, report.edition, report.pages],
    )
    _insert_rows(catalogue, report)
    named = zip(_part_ids(report.settings), report.settings, strict=True)
    write_pictures(catalogue, report.digest, [(new.id, pictures[old.id]) for new, old in named if old.id in pictures])
    if face is not None:
        write_face(catalogue, report.digest, face)
    run(_DECIDE_AGAIN, {"digest": report.digest})
    apply_names(catalogue, report.digest)
    return Loaded(outcome="refused" if refused else "loaded", replaced=replaced)


def _supersede(catalogue: Catalogue, report: SheetReport, beside: tuple[str, ...]) -> tuple[str, ...]:
    run = catalogue.connection.execute
    found = run(
        "SELECT digest FROM sheet WHERE file = ? AND fold_text(maker) = fold_text(?) AND digest <> ?"
        " AND state <> 'superseded'",
        [report.file, report.maker, report.digest],
    ).fetchall()
    replaced = tuple(row[0] for row in found if row[0] not in beside)
    for digest in replaced:
        run(f"UPDATE setting SET state = 'superseded', {_DROP_FIGURES} WHERE sheet = ?", [digest])
        run(
            "UPDATE sheet SET state = 'superseded', superseded_by = ? WHERE digest = ?",
            [report.digest, digest],
        )
    return replaced


def _insert_rows(catalogue: Catalogue, report: SheetReport) -> None:
    kept = _part_ids(report.settings)
    settings = [setting_row(report, setting, number) for number, setting in enumerate(kept, 1)]
    findings = [finding_row(report, None, finding, number) for number, finding in enumerate(report.findings, 1)]
    for setting in kept:
        findings += [finding_row(report, setting.id, f, number) for number, f in enumerate(setting.findings, 1)]
    named = {"maker": report.maker, "title": report.title, "file": report.file}
    if settings:
        catalogue.connection.execute(_INSERT_SETTINGS, {**_as_json(settings, SETTING_TYPES), **named})
    if findings:
        catalogue.connection.execute(_INSERT_FINDINGS, _as_json(findings, FINDING_TYPES))


def _part_ids(settings: Iterable[Setting]) -> tuple[Setting, ...]:
    """Number the ids that a sheet gives twice, so that neither setting is lost."""
    met: dict[str, int] = {}
    kept = []
    for setting in settings:
        met[setting.id] = met.get(setting.id, 0) + 1
        kept.append(setting if met[setting.id] == 1 else replace(setting, id=f"{setting.id}-{met[setting.id]}"))
    return tuple(kept)


def _as_json(rows: list[dict[str, Any]], types: Mapping[str, Any]) -> dict[str, str]:
    """Return rows and their types for from_json: one value instead of thousands, decimals as digits."""
    return {"rows": json.dumps(rows, default=str), "types": json.dumps([types])}
