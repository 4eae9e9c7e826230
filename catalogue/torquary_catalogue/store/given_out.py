"""What was given out of the catalogue, with its figures as they were then; kept so that it can be recalled."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Any

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.decisions import read_readings, take_back_to_read
from torquary_catalogue.store.findings import as_json
from torquary_catalogue.store.same_print import PrintRead, find_near, tell_differences

_FIGURES = ("min_nm", "nominal_nm", "max_nm", "limit_nm")
_TYPES = {"sheet": "VARCHAR", "setting": "VARCHAR", **dict.fromkeys(_FIGURES, "DECIMAL(38,24)")}

_KEEP = """
INSERT INTO given_out BY NAME
SELECT (SELECT coalesce(max(number), 0) + 1 FROM given_out)::INTEGER AS number,
    (now() AT TIME ZONE 'UTC') AS given_at, $kind AS kind, $who AS who, $what_for AS what_for,
    $question AS question, $answer AS answer
RETURNING number"""
_KEEP_FIGURES = """
INSERT INTO given_figure BY NAME
SELECT $number::INTEGER AS number, r.* FROM (SELECT unnest(from_json($rows::JSON, $types)) AS r)"""

_FOLLOW = """
UPDATE given_figure SET setting = $new,
    read_otherwise = CASE WHEN $otherwise OR coalesce(read_otherwise, false) THEN true END
WHERE sheet = $sheet AND setting = $old"""

_READ = f"""
SELECT g.*, f.sheet, f.setting, coalesce(f.read_otherwise, false) AS read_otherwise,
    {", ".join(f"f.{name}" for name in _FIGURES)},
    s.state AS state_now, {", ".join(f"s.{name} AS {name}_now" for name in _FIGURES)},
    s.device_printed, s.terminal_printed, s.conductor_printed, s.page, s.torque_printed,
    h.file, h.edition, h.state AS sheet_state, h.superseded_by, o.file AS superseded_by_file,
    d.verdict, d.who AS decided_by, d.decided_at, d.why AS decided_why
FROM given_out AS g JOIN given_figure AS f ON f.number = g.number
LEFT JOIN setting AS s ON s.sheet = f.sheet AND s.id = f.setting
LEFT JOIN sheet AS h ON h.digest = f.sheet LEFT JOIN sheet AS o ON o.digest = h.superseded_by
LEFT JOIN last_decision AS d ON d.sheet = f.sheet AND d.setting = f.setting
ORDER BY g.number, h.file, s.number, f.setting"""


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenOut:
    """Something given out: `kind` "note" or "export", what it is for, what was asked and how it was answered."""

    kind: str
    who: str
    what_for: str
    question: str
    answer: str


_AT_ONCE = 20_000
"""Figures in one statement: a million as one text of JSON take more memory than all else."""


def keep_given(catalogue: Catalogue, given: GivenOut, figures: Iterable[dict[str, Any]]) -> int:
    """Keep what is given out and the released figures in it, rows of sheet, setting and figures (N·m); its number."""
    values = {name: getattr(given, name) for name in given.__slots__}
    rows = ({name: row[name] for name in _TYPES} for row in figures)
    with catalogue.transaction():
        found = catalogue.connection.execute(_KEEP, values).fetchone()
        assert found is not None
        while some := list(islice(rows, _AT_ONCE)):
            catalogue.connection.execute(_KEEP_FIGURES, {"number": int(found[0]), **as_json(some, _TYPES)})
    return int(found[0])


def read_given_out(catalogue: Catalogue) -> list[dict[str, Any]]:
    """Return what was given out without figures too, in its order."""
    return catalogue.rows("SELECT * FROM given_out ORDER BY number")


def read_given_figures(catalogue: Catalogue) -> list[dict[str, Any]]:
    """Return each figure that was given out, with what its setting and sheet are now (`…_now`, NULL: not read)."""
    return catalogue.rows(_READ)


def read_given_readings(catalogue: Catalogue, sheet: str) -> tuple[PrintRead, ...]:
    """Return the readings of a sheet of which figures were given out, without what people decided of them."""
    rows = catalogue.rows("SELECT DISTINCT setting FROM given_figure WHERE sheet = ?", [sheet])
    given = {row["setting"] for row in rows}
    if not given:
        return ()
    take_back_to_read(catalogue, sheet)
    return tuple(one for one in read_readings(catalogue, sheet) if one.id in given)


def follow_readings(catalogue: Catalogue, sheet: str, before: Sequence[PrintRead]) -> None:
    """Let figures that were given out belong to the reading of their print of today, whatever its id is."""
    if not before:
        return
    now = read_readings(catalogue, sheet)
    for one in before:
        near = [other for other in now if other.id == one.id] or find_near(one, now)
        same = [other for other in near if set(tell_differences(one, other)) <= {"place", "doubts"}] or near
        if len(same) == 1:
            values = {
                "sheet": sheet, "old": one.id, "new": same[0].id,
                "otherwise": bool(set(tell_differences(one, same[0])) - {"place", "doubts"}),
            }  # fmt: skip
            catalogue.connection.execute(_FOLLOW, values)
