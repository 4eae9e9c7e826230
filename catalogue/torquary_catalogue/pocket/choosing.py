"""Which settings go into a page, and what stays behind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.find.row import Row, read_row
from torquary_catalogue.store import Catalogue

# In the order that the macro find_setting gives its rows beside fit and state. "x1" is marked otherwise than "x2"
# wherever the label does not print a span.
_CHOSEN = """
SELECT 'unasked' AS fit, 'unasked' AS terminal_fit, false AS amps_said, false AS curve_said, c.*, s.sheet_number,
    s.said, s.maker_words, s.series_words, NOT other_marking(s.terminal_printed, 'x1', 'x2') AS is_span,
    coalesce(is_limit_for_all(s.any_terminal, s.limit_nm, s.min_nm, s.max_nm), false) AS is_limit_for_all,
    coalesce(list_has_any(s.says, ['top', 'bottom']), false) AS placed
FROM current_setting AS c JOIN setting AS s ON s.sheet = c.sheet AND s.id = c.id
WHERE (len($sheets) = 0 OR list_contains($sheets::VARCHAR[], c.sheet))
    AND (len($makers) = 0 OR len(list_filter($makers::VARCHAR[], lambda m: has_words(s.maker_words, m))) > 0)
    AND (len($devices) = 0 OR len(list_filter($devices::VARCHAR[], lambda d: has_each_word(s.device_words
        || ' ' || fold_text(join_types(concat_ws(' | ', s.device_printed, s.series, s.model))), d))) > 0)
ORDER BY c.maker, c.file, c.page, c.number, c.sheet"""
_COUNT = "SELECT count(*) AS settings FROM current_setting"
_SHEETS = """
SELECT digest, number, file, title, coalesce(maker, '') AS maker, edition, state FROM sheet ORDER BY file, digest"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """The settings that go into a page. `columns` are theirs for matching, in the order of `rows`.

    `said` tells what was chosen ("" for all); `behind` is the number of settings in force that stay behind, `sheets`
    are all sheets of the catalogue, whatever their state.
    """

    rows: tuple[Row, ...]
    columns: tuple[dict[str, Any], ...]
    sheets: tuple[dict[str, Any], ...]
    said: str
    behind: int


def choose(
    catalogue: Catalogue, sheets: Sequence[str] = (), makers: Sequence[str] = (), devices: Sequence[str] = ()
) -> Chosen:
    """Return the settings of these sheets (digests), makers and devices; of several of a kind, each.

    Raises `TorquaryError` (status 2) where nothing is chosen.
    """
    values = {"sheets": list(sheets), "makers": list(makers), "devices": list(devices)}
    found = catalogue.rows(_CHOSEN, values)
    if not found:
        raise TorquaryError(
            "nothing in force is chosen, and an empty page would answer nothing: see torquary sheets",
            status=WRONG_USE,
        )
    every = catalogue.rows(_SHEETS)
    files = [sheet["file"] for sheet in every if sheet["digest"] in sheets]
    named = (("sheet", files), ("maker", makers), ("device", devices))
    return Chosen(
        rows=tuple(read_row(columns) for columns in found),
        columns=tuple(found),
        sheets=tuple(every),
        said="; ".join(f"{what} {', '.join(texts)}" for what, texts in named if texts),
        behind=catalogue.rows(_COUNT)[0]["settings"] - len(found),
    )
