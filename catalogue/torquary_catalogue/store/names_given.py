"""Names and the like as a person gave them, where the sheet was read otherwise: kept, put in force."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.same_print import COLUMNS

_DEVICE = ("device_printed", "family", "missing")
_TERMINAL = ("terminal_printed", "roles", "any_terminal")
_CONDUCTOR = (
    "conductor_printed", "system", "min_mm2", "max_mm2", "min_awg", "max_awg",
    "material", "stranding", "ferrule", "conductor_count",
)  # fmt: skip
_OTHERS = ("purpose", "drive", "conditions", "unit_printed", "evidence")
_CHANGED = (*_DEVICE, *_TERMINAL, *_CONDUCTOR, *_OTHERS)
"""Columns of a setting that what people give may change."""

_KEEP_READ = f"""
INSERT INTO name_read BY NAME SELECT sheet, id AS setting, {", ".join(_CHANGED)} FROM setting
WHERE sheet = $sheet AND list_contains($settings, id)
    AND id NOT IN (SELECT setting FROM name_read WHERE sheet = $sheet)"""
_NAMED = """
SELECT DISTINCT setting FROM name_given WHERE sheet = $sheet AND list_contains($settings, setting)"""
_TAKE_BACK = f"""
UPDATE setting SET {", ".join(f"{name} = n.{name}" for name in _CHANGED)},
    min_gauge = gauge_rank(n.min_awg), max_gauge = gauge_rank(n.max_awg)
FROM name_read AS n WHERE setting.sheet = $sheet AND n.sheet = $sheet AND setting.id = n.setting"""

# A name stands as long as decisions are about the same reading; what was given about another one is not for this.
_READING = ", ".join(f"{name} := {name}" for name in COLUMNS)
_GIVEN = f"""
WITH read_as AS (SELECT p.setting, p.decided_at, r.number, struct_pack({_READING}) AS reading
    FROM decided_print AS p JOIN decision AS d USING (sheet, setting, decided_at)
    JOIN decision_record AS r ON r.number = d.number
    WHERE p.sheet = $sheet AND list_contains($settings, p.setting) AND r.undone_by IS NULL),
last_read_as AS (FROM read_as QUALIFY row_number() OVER (PARTITION BY setting ORDER BY number DESC) = 1),
given AS (SELECT g.*, r.number FROM name_given AS g
    JOIN read_as AS r ON r.setting = g.setting AND r.decided_at = g.decided_at
    JOIN last_read_as AS l ON l.setting = g.setting AND l.reading IS NOT DISTINCT FROM r.reading
    WHERE g.sheet = $sheet)"""

_LAST = """(SELECT * FROM given WHERE {column} IS NOT NULL
      QUALIFY row_number() OVER (PARTITION BY setting ORDER BY number DESC) = 1) AS g
WHERE setting.sheet = g.sheet AND setting.id = g.setting"""
_NAMED_NOW = "missing = list_filter(setting.missing, lambda m: m.field <> '{field}')"

_APPLY_DEVICE = f"""
UPDATE setting SET
    device_printed = g.device_printed,
    family = coalesce(g.family, setting.family),
    {_NAMED_NOW.format(field="device")}
FROM {_LAST.format(column="device_printed")}"""

_APPLY_TERMINAL = f"""
UPDATE setting SET
    terminal_printed = g.terminal_printed,
    roles = g.roles,
    any_terminal = g.any_terminal,
    {_NAMED_NOW.format(field="terminal")}
FROM {_LAST.format(column="terminal_printed")}"""

# What is not given of a conductor's make stays as read.
_APPLY_CONDUCTOR = f"""
UPDATE setting SET
    conductor_printed = g.conductor_printed,
    system = g.system,
    min_mm2 = g.min_mm2,
    max_mm2 = g.max_mm2,
    min_awg = g.min_awg,
    max_awg = g.max_awg,
    min_gauge = gauge_rank(g.min_awg),
    max_gauge = gauge_rank(g.max_awg),
    material = CASE WHEN len(g.material) > 0 THEN g.material ELSE setting.material END,
    stranding = CASE WHEN len(g.stranding) > 0 THEN g.stranding ELSE setting.stranding END,
    ferrule = coalesce(g.ferrule, setting.ferrule),
    conductor_count = coalesce(g.conductor_count, setting.conductor_count)
FROM {_LAST.format(column="conductor_printed")}"""

_APPLY_OTHERS = tuple(
    f"UPDATE setting SET {name} = g.{name} FROM {_LAST.format(column=name)}"
    for name in ("purpose", "drive", "conditions")
)

_KEEP = """
INSERT INTO name_given BY NAME
SELECT (now() AT TIME ZONE 'UTC') AS decided_at, sheet, id AS setting,
    device_printed AS device_read, terminal_printed AS terminal_read, conductor_printed AS conductor_read,
    {given}
FROM setting WHERE sheet = $sheet AND id = $setting"""


def keep_names(catalogue: Catalogue, sheet: str, setting: str, given: dict[str, Any]) -> None:
    """Keep the columns that a person gave for a setting, which is as it was read.

    `given` holds columns of a device, a terminal, a conductor or several; `material` and `stranding` always.
    """
    columns = ", ".join(f"${name} AS {name}" for name in given)
    catalogue.connection.execute(_KEEP.format(given=columns), {"sheet": sheet, "setting": setting, **given})


def keep_read(catalogue: Catalogue, sheet: str, settings: Iterable[str]) -> None:
    """Keep what these settings of a sheet were read as, before what people gave is put in its place."""
    catalogue.connection.execute(_KEEP_READ, {"sheet": sheet, "settings": list(settings)})


def apply_names(catalogue: Catalogue, sheet: str, settings: Sequence[str]) -> None:
    """Put in force what people gave for these settings of a sheet, about what they were read as when decided last."""
    values = {"sheet": sheet, "settings": list(settings)}
    named = [row["setting"] for row in catalogue.rows(_NAMED, values)]
    if not named:
        return
    keep_read(catalogue, sheet, named)
    for query in (_APPLY_DEVICE, _APPLY_TERMINAL, _APPLY_CONDUCTOR, *_APPLY_OTHERS):
        catalogue.connection.execute(_GIVEN + query, values)


def take_back_names(catalogue: Catalogue, sheet: str) -> None:
    """Give the settings of a sheet the names that were read."""
    if not catalogue.rows("SELECT 1 FROM name_read WHERE sheet = $sheet LIMIT 1", {"sheet": sheet}):
        return
    for query in (_TAKE_BACK, "DELETE FROM name_read WHERE sheet = $sheet"):
        catalogue.connection.execute(query, {"sheet": sheet})
