"""Many questions at once: what they ask of the catalogue is asked together, for all that wait for it.

Planning the macro `find_setting` takes longer than carrying it out, and one plan carries out hundreds of questions.
Each question is answered by `find` itself: it is begun, left where it asks what is not known yet, and begun anew when
the catalogue was asked for all of them. So the answers are those of `find`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from typing import Any, TypeVar

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.find.query import SETTING_PARTS, count_reach_of
from torquary_catalogue.find.row import COLUMNS
from torquary_catalogue.store import Catalogue

MOST_TOGETHER = 250
"""Questions in one statement: more would only need more memory."""
MOST_REACHED = 500
"""Settings of the sheets that a question looks into: one for more is asked alone, and its rows are not kept."""

_TYPES = {"mm2": "DECIMAL(38, 24)", "conductors": "INTEGER", "amps": "DOUBLE", "ferrule": "BOOLEAN"}
_LISTS = ("roles", "or_roles")
_ASKED = ", ".join(
    f"unnest(${name}::VARCHAR[][]) AS {name}"
    if name in _LISTS
    else f"unnest(${name}::VARCHAR[])::{_TYPES.get(name, 'VARCHAR')} AS {name}"
    for name in SETTING_PARTS
)
_GIVEN = ", ".join(f"{name} := q.{name}" for name in SETTING_PARTS)
# The order is that of the macro, which a join does not keep.
_TOGETHER = f"""
SELECT q.at_question, {', '.join(f"f.{name}" for name in COLUMNS)}
FROM (SELECT unnest(range($count::BIGINT)) AS at_question, {_ASKED}) AS q,
    LATERAL (FROM find_setting({_GIVEN})) AS f
ORDER BY q.at_question, list_position(['size', 'unasked', 'unsized', 'outside', 'other_system', 'unread'], f.fit),
    f.state DESC, f.maker, f.file, f.page, f.number"""

# As for one question in `count_reach_of`, for the words of many.
_REACH = """
WITH each AS (
    SELECT DISTINCT asked, unnest(string_split(asked, ' ')) AS word FROM (SELECT unnest($keys::VARCHAR[]) AS asked)
),
counted AS (SELECT asked, count(*) AS words FROM each GROUP BY asked),
fitting AS (
    SELECT e.asked, w.sheet_number FROM each AS e JOIN counted AS n ON n.asked = e.asked
    JOIN sheet_word AS w ON w.word = e.word GROUP BY e.asked, w.sheet_number, n.words HAVING count(*) = n.words
)
SELECT f.asked, sum(c.settings)::BIGINT AS settings FROM fitting AS f
JOIN sheet AS h ON h.number = f.sheet_number AND h.state = 'read'
JOIN sheet_count AS c ON c.sheet_number = f.sheet_number AND c.kind = 'sheet' GROUP BY f.asked"""

_Key = tuple[tuple[str, Any], ...]
_Told = TypeVar("_Told")


class _NotYet(Exception):  # noqa: N818  (a fact, no fault)
    """What is asked is not known yet; it is asked for with all that others ask."""


class _Broad(Exception):  # noqa: N818  (a fact, no fault)
    """The question looks into so many settings that it is asked alone."""


class AskedTogether(Catalogue):
    """An open catalogue, not to be written to meanwhile, that is asked nothing twice, and much of it in one go."""

    def __init__(self, catalogue: Catalogue) -> None:
        super().__init__(catalogue.connection, catalogue.path)
        self._rows: dict[tuple[str, str], list[dict[str, Any]]] = {}
        self._settings: dict[_Key, list[dict[str, Any]]] = {}
        self._looked_up: dict[str, dict[str, list[dict[str, Any]]]] = defaultdict(dict)
        self._wanted_settings: set[_Key] = set()
        self._alone = False
        self._wanted_keys: dict[str, set[str]] = defaultdict(set)

    def rows(self, query: str, values: Any = None) -> list[dict[str, Any]]:
        """Return the rows of a query, as they were when it was first asked."""
        key = query, repr(values)
        if key not in self._rows:
            self._rows[key] = super().rows(query, values)
        return self._rows[key]

    def look_up(self, query: str, keys: Sequence[str]) -> list[dict[str, Any]]:
        """Return the rows for the keys, or leave the question until all keys that are wanted were looked up."""
        known = self._looked_up[query]
        missing = [key for key in keys if key not in known]
        if missing and self._alone:
            return super().rows(query, {"keys": keys})
        if missing:
            self._wanted_keys[query].update(missing)
            raise _NotYet
        return [row for key in dict.fromkeys(keys) for row in known[key]]

    def find_settings(self, query: str, parts: Mapping[str, Any]) -> list[dict[str, Any]]:
        """Return the rows of find_setting, or leave the question until it was asked with the others."""
        key = tuple(sorted(parts.items()))
        if key in self._settings:
            return self._settings[key]
        if self._alone:
            return super().rows(query)
        if self._count_reach(parts) > MOST_REACHED:
            raise _Broad
        self._wanted_settings.add(key)
        raise _NotYet

    def _count_reach(self, parts: Mapping[str, Any]) -> int:
        words = " ".join(filter(None, (parts.get("words"), parts.get("family"))))
        if not words:
            return count_reach_of(self, None, None)
        return sum(int(row["settings"]) for row in self.look_up(_REACH, [words]))

    def tell_each(self, tells: Sequence[Callable[[], _Told]]) -> list[_Told | TorquaryError]:
        """Return what each tells, or what is wrong with it, in their order."""
        told: dict[int, _Told | TorquaryError] = {}
        while len(told) < len(tells):
            for at in (at for at in range(len(tells)) if at not in told):
                try:
                    told[at] = self._tell(tells[at])
                except _NotYet:
                    continue
                except TorquaryError as error:
                    told[at] = error
            self._ask_for_all()
        return [told[at] for at in range(len(tells))]

    def _tell(self, tell: Callable[[], _Told]) -> _Told:
        try:
            return tell()
        except _Broad:
            self._alone = True
            try:
                return tell()
            finally:
                self._alone = False

    def _ask_for_all(self) -> None:
        for query, keys in self._wanted_keys.items():
            self._looked_up[query].update((key, []) for key in keys)
            for row in super().rows(query, {"keys": sorted(keys)}):
                self._looked_up[query][row["asked"]].append(row)
        self._wanted_keys.clear()
        wanted = sorted(self._wanted_settings, key=repr)
        self._wanted_settings.clear()
        for first in range(0, len(wanted), MOST_TOGETHER):
            self._ask_settings(wanted[first : first + MOST_TOGETHER])

    def _ask_settings(self, keys: Sequence[_Key]) -> None:
        self._settings.update((key, []) for key in keys)
        asked = [dict(key) for key in keys]
        columns = {name: [_write(parts.get(name)) for parts in asked] for name in SETTING_PARTS}
        for row in super().rows(_TOGETHER, {**columns, "count": len(keys)}):
            self._settings[keys[row.pop("at_question")]].append(row)


def _write(value: Any) -> Any:
    """Return a part as text, which DuckDB reads as it reads a number that is written in a query; lists as they are."""
    if value is None:
        return None
    if isinstance(value, tuple):
        return list(value)
    return f"{value:f}" if isinstance(value, Decimal) else str(value).lower() if isinstance(value, bool) else str(value)
