"""Loading a sheet: one short transaction, in which the sheet is there whole or not at all."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed
from typing import Literal

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.counts import Counts
from torquary_catalogue.store.engine import duckdb
from torquary_catalogue.store.faces import KeptFace, write_faces
from torquary_catalogue.store.findings import as_json, insert_findings
from torquary_catalogue.store.follow import at_once, follow, follow_new
from torquary_catalogue.store.given_out import follow_readings, read_given_readings
from torquary_catalogue.store.identity import FIELDS
from torquary_catalogue.store.pictures import write_pictures
from torquary_catalogue.store.renewed import Withdrawn, read_before, tell_withdrawn
from torquary_catalogue.store.rows import finding_row, setting_row
from torquary_catalogue.store.rows_added import insert_rows
from torquary_catalogue.store.sheet_words import drop_words
from torquary_catalogue.store.standing import replace_namesakes, why_out_of_force
from torquary_schema.values import Finding, Setting, SheetReport

_SHEET = (
    "digest", "file", "state", "title", "product", "maker", "document_number", "edition", "edition_date", "pages",
)  # fmt: skip
_SHEET_TYPES = {**dict.fromkeys(_SHEET, "VARCHAR"), "pages": "INTEGER", "place": "INTEGER"}
# Sheets that are written together keep their order by the moment.
_INSERT_SHEETS = f"""
INSERT INTO sheet BY NAME
SELECT r.* EXCLUDE (place), struct_pack({', '.join(f'{name} := r.{name}' for name in FIELDS)}) AS as_read,
    (now() AT TIME ZONE 'UTC') + to_microseconds(r.place) AS loaded_at,
    CASE WHEN r.state = 'refused' THEN 0 ELSE $reader::INTEGER END AS reader,
    (SELECT coalesce(max(number), 0) FROM sheet) + r.place AS number
FROM (SELECT unnest(from_json($rows::JSON, $types)) AS r)"""

_ARE_KNOWN = """
SELECT digest FROM sheet WHERE list_contains($sheets::VARCHAR[], digest) UNION
SELECT unnest([sheet, other]) FROM decision_record WHERE list_has_any($sheets::VARCHAR[], [sheet, other])"""

_COUNT = """
SELECT
    count(*) FILTER (s.state = 'released' AND d.verdict IS DISTINCT FROM 'correct') AS released,
    count(*) FILTER (s.state = 'released' AND d.verdict = 'correct') AS corrected,
    count(*) FILTER (s.state = 'held') AS held,
    count(*) FILTER (s.state = 'rejected') AS rejected
FROM setting AS s LEFT JOIN last_decision AS d ON d.sheet = s.sheet AND d.setting = s.id
WHERE s.sheet = $sheet"""


class SheetNotStored(Exception):  # noqa: N818  (a fact, as in errors elsewhere)
    """Something in this sheet is none that a catalogue can hold, such as text that is not Unicode. Others go on."""


NOT_STORED = (duckdb.DataError, duckdb.IntegrityError, duckdb.InvalidInputException, UnicodeEncodeError)
"""What DuckDB raises at such text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """What became of one report. `replaced` are the digests of the sheets that this one supersedes.

    `findings` are those that the catalogue adds: on decisions, and on sheets of the same name. `withdrawn` says what
    an earlier reader released and this one does not.
    """

    outcome: Literal["loaded", "unchanged", "refused"]
    replaced: tuple[str, ...] = ()
    counts: Counts = field(default_factory=Counts)
    findings: tuple[Finding, ...] = ()
    withdrawn: tuple[Withdrawn, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _How:
    again: bool
    replace: bool
    who: str
    beside: frozenset[str]
    reader: int | None
    new: bool


def load_report(
    catalogue: Catalogue,
    report: SheetReport,
    *,
    again: bool = False,
    replace: bool = False,
    who: str = "",
    beside: Iterable[str] = (),
    pictures: Mapping[str, bytes] | None = None,
    face: KeptFace | None = None,
    reader: int | None = None,
) -> Loaded:
    """Write one sheet. The same content again changes nothing, unless `again` says to put this reading in.

    It supersedes what it shows itself to be a later edition of (`standing.py`); with `replace`, by the word of `who`,
    all others of its file name except for the digests `beside`: those of the same load. Decisions are never dropped
    (`decisions.py`), and those about the same print of an earlier edition are carried over (`carried.py`).
    `pictures` are PNGs by the id of their setting; `face` is what tells which layout profiles are for the sheet;
    `reader` is the version of the reader that read it.

    Raises `SheetNotStored` when the catalogue does not take this sheet; it is then as it was before.
    """
    try:
        with at_once(catalogue):
            new = not replace and not which_are_known(catalogue, [report.digest])
            how = _How(again=again, replace=replace, who=who, beside=frozenset(beside), reader=reader, new=new)
            standing = None if new else _tell_standing(catalogue, report, how)
            return standing or _load(catalogue, report, how, pictures or {}, face)
    except NOT_STORED as error:
        raise SheetNotStored(" ".join(str(error).split())[:160]) from None


def which_are_known(catalogue: Catalogue, sheets: Sequence[str]) -> set[str]:
    """Return those of the sheets (digests) that are in the catalogue, or in a decision."""
    return {row["digest"] for row in catalogue.rows(_ARE_KNOWN, {"sheets": [*sheets]})} & {*sheets}


def _tell_standing(catalogue: Catalogue, report: SheetReport, how: _How) -> Loaded | None:
    """Return what is said of a content that stays as it is in the catalogue; None if it is to be written."""
    found = catalogue.rows("SELECT state, reader = 0 AS unread FROM sheet WHERE digest = ?", [report.digest])
    state = found[0]["state"] if found else "refused"
    if state == "refused" or (how.replace and report.state != "refused" and state != "withdrawn"):
        return None
    out = why_out_of_force(catalogue, report.digest)
    if out is not None:
        return Loaded(outcome="unchanged", findings=(out,))
    anew = how.again or state == "superseded" or found[0]["unread"]
    stays = report.state == "refused" or not anew
    return Loaded(outcome="unchanged") if stays else None


def _load(
    catalogue: Catalogue, report: SheetReport, how: _How, pictures: Mapping[str, bytes], face: KeptFace | None
) -> Loaded:
    before = () if how.new else read_before(catalogue, report.digest, how.reader)
    given = () if how.new else read_given_readings(catalogue, report.digest)
    _write(catalogue, report, how)
    write_row_pictures(catalogue, report, pictures)
    if face is not None:
        write_faces(catalogue, {report.digest: face})
    if report.state == "refused":
        return Loaded(outcome="refused")
    replaced = (
        replace_namesakes(catalogue, report.digest, who=how.who, beside=how.beside) if how.replace else ()
    )
    if how.new:
        judged = follow_new(catalogue, report.digest)
    else:
        follow_readings(catalogue, report.digest, given)
        judged = follow(catalogue, report.digest, replaced)
    (counts,) = catalogue.rows(_COUNT, {"sheet": report.digest})
    return Loaded(
        outcome="loaded",
        replaced=(*replaced, *judged.replaced),
        counts=Counts(**counts),
        findings=judged.findings,
        withdrawn=tell_withdrawn(catalogue, report.digest, before),
    )


def write_row_pictures(catalogue: Catalogue, report: SheetReport, pictures: Mapping[str, bytes]) -> None:
    """Keep the pictures, by the id of their setting, of the settings as they are stored."""
    named = zip(_part_ids(report.settings), report.settings, strict=True)
    write_pictures(catalogue, report.digest, [(new.id, pictures[old.id]) for new, old in named if old.id in pictures])


def _write(catalogue: Catalogue, report: SheetReport, how: _How) -> None:
    """Write the sheet as it was read, in the place of what was read of the same content before."""
    if not how.new:
        _drop(catalogue, report.digest)
    insert_read(catalogue, [report], how.reader)


def _drop(catalogue: Catalogue, sheet: str) -> None:
    drop_words(catalogue, [sheet])
    for table in ("finding", "setting", "name_read"):
        catalogue.connection.execute(f"DELETE FROM {table} WHERE sheet = ?", [sheet])
    catalogue.connection.execute("DELETE FROM sheet WHERE digest = ?", [sheet])


def insert_read(catalogue: Catalogue, reports: Sequence[SheetReport], reader: int | None) -> None:
    """Write sheets, their settings and findings as they were read; none of them may be there."""
    sheets = [{**{name: getattr(one, name) for name in _SHEET}, "place": place} for place, one in enumerate(reports, 1)]
    catalogue.connection.execute(_INSERT_SHEETS, {**as_json(sheets, _SHEET_TYPES), "reader": reader})
    settings, findings = [], []
    for report in reports:
        kept = _part_ids(report.settings)
        settings += [setting_row(report, setting, number) for number, setting in enumerate(kept, 1)]
        findings += [finding_row(report.digest, None, one, number) for number, one in enumerate(report.findings, 1)]
        for setting in kept:
            doubts = enumerate(setting.findings, 1)
            findings += [finding_row(report.digest, setting.id, one, number) for number, one in doubts]
    insert_rows(catalogue, settings)
    insert_findings(catalogue, findings)


def _part_ids(settings: Iterable[Setting]) -> tuple[Setting, ...]:
    """Number the ids that a sheet gives twice, so that neither setting is lost."""
    met: dict[str, int] = {}
    kept = []
    for setting in settings:
        met[setting.id] = met.get(setting.id, 0) + 1
        kept.append(setting if met[setting.id] == 1 else changed(setting, id=f"{setting.id}-{met[setting.id]}"))
    return tuple(kept)
