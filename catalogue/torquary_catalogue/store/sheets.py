"""The sheets of a catalogue, with what is in force of each."""

from __future__ import annotations

from typing import Any

from torquary_catalogue.store.connection import Catalogue

_SHEETS = """
SELECT h.digest, h.file, h.state, h.title, h.maker, coalesce(h.document_number, '') AS document_number, h.edition,
    coalesce(h.edition_date, '') AS edition_date, h.pages, h.loaded_at, h.reader, h.as_read,
    coalesce(s.settings, 0) AS settings, coalesce(s.released, 0) AS released, coalesce(s.held, 0) AS held,
    coalesce(s.rejected, 0) AS rejected, coalesce(s.added, 0) AS added,
    h.superseded_by, o.file AS superseded_by_file,
    CASE WHEN h.state = 'refused' OR h.reader = 0 THEN (SELECT min_by(f.message, f.number) FROM finding AS f
        WHERE f.sheet = h.digest AND f.setting IS NULL) END AS why_refused,
    coalesce(n.names, []) AS names, coalesce(n.last_loaded, h.loaded_at) AS last_loaded
FROM sheet AS h
LEFT JOIN sheet AS o ON o.digest = h.superseded_by
LEFT JOIN (SELECT sheet, count(*) AS settings, count(*) FILTER (state = 'released') AS released,
        count(*) FILTER (state = 'held') AS held, count(*) FILTER (state = 'rejected') AS rejected,
        count(*) FILTER (id IN (SELECT setting FROM row_added)) AS added
    FROM setting GROUP BY sheet) AS s ON s.sheet = h.digest
LEFT JOIN (SELECT sheet, list({'folder': folder, 'file': file} ORDER BY folder, file) AS names,
        max(last_loaded) AS last_loaded
    FROM sheet_name GROUP BY sheet) AS n ON n.sheet = h.digest"""


def read_sheets(catalogue: Catalogue, words: str = "", state: str | None = None) -> list[dict[str, Any]]:
    """Return the sheets, those in force first; `words` must all stand in file, title, maker or number."""
    where = """ WHERE ($state IS NULL OR h.state = $state) AND has_each_word(
        fold_names(concat_ws(' ', h.file, h.title, h.maker, h.document_number, h.edition)), $words)
        ORDER BY list_position(['read', 'superseded', 'withdrawn', 'refused'], h.state), h.maker, h.file, h.digest"""
    return catalogue.rows(_SHEETS + where, {"words": words, "state": state})


def read_sheet(catalogue: Catalogue, digest: str) -> dict[str, Any]:
    """Return the sheet of this digest."""
    return catalogue.rows(f"{_SHEETS} WHERE h.digest = $digest", {"digest": digest})[0]
