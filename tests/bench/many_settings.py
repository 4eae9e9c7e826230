"""A catalogue of many invented settings, made by DuckDB itself: makers, types and labels come from a fixed seed.

Run: python tests/bench/many_settings.py FILE [SETTINGS] [SEED].
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.sheet_words import NOTE_COUNTS, NOTE_WORDS
from torquary_catalogue.store.words import refresh_words
from torquary_schema.vocabulary import vocabulary
from torquary_schema.words import languages, spellings

SEED = 20
MAKERS, TYPES, FAMILIES, LANGUAGES = 200, 5_000, 24, 8
SHEET = 50
"""Settings of a sheet: five terminals for ten sizes."""

_SIZES = (1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50)
_FIGURES = (0.5, 0.8, 1.2, 1.8, 2.0, 2.5, 3.0, 4.0, 6.0, 8.0)
_ROLES = ("line_in", "load_out", "neutral", "protective_earth", "aux")
_EVERY_HELD = 10

_SHEETS = f"""
INSERT INTO sheet BY NAME
SELECT format('{{:064x}}', hash(n, $seed)) AS digest, format('sheet-{{}}.pdf', n) AS file, 'read' AS state,
    format('Type QX{{}} data', n % {TYPES}) AS title, format('Ovrel{{}}', n % {MAKERS}) AS maker, '' AS edition,
    4 AS pages, now() AT TIME ZONE 'UTC' AS loaded_at, n AS number
FROM range($sheets) AS r(n)"""

_PARTS = f"""
SELECT format('{{:064x}}', hash(n // {SHEET}, $seed)) AS sheet, n % {SHEET} + 1 AS number,
    format('{{:x}}', hash(n, $seed, 'id')) AS id,
    CASE WHEN hash(n, $seed, 'state') % {_EVERY_HELD} = 0 THEN 'held' ELSE 'released' END AS state,
    (n // {SHEET}) % {TYPES} AS type, (n // {SHEET}) % {MAKERS} AS made,
    f.value AS family, w.words[n % 5 + 1] AS terminal_printed, w.roles[n % 5 + 1] AS role,
    $sizes[(n // 5) % 10 + 1] AS size, $figures[(hash(n, $seed, 'nm') % 10)::BIGINT + 1] AS nm
FROM range($sheets * {SHEET}) AS r(n)
JOIN (SELECT unnest($families::VARCHAR[]) AS value, unnest(range(len($families))) AS at) AS f
    ON f.at = ((n // {SHEET}) % {TYPES}) % len($families)
JOIN (SELECT unnest(from_json($labels, '[{{"words": ["VARCHAR"], "roles": ["VARCHAR"]}}]'), recursive := true),
        unnest(range($languages)) AS at) AS w
    ON w.at = hash(n // {SHEET}, $seed, 'language') % $languages"""

_SETTINGS = f"""
INSERT INTO setting BY NAME
SELECT p.sheet, p.number, p.id, p.state, 'electrical_terminal' AS purpose,
    format('Type QX{{}}', p.type) AS device_printed, format('Ovrel{{}}', p.made) AS maker, p.family,
    format('QX{{}}', p.type) AS model, p.terminal_printed, [p.role] AS roles, false AS any_terminal,
    [{{'kind': 'pozidriv', 'size': '2'}}] AS drive, p.size || ' mm²' AS conductor_printed, 'mm2' AS system,
    p.size AS min_mm2, p.size AS max_mm2, [] AS material, [] AS stranding, p.nm AS torque_printed,
    'N·m' AS unit_printed, CASE WHEN p.state = 'released' THEN p.nm END AS min_nm,
    CASE WHEN p.state = 'released' THEN p.nm END AS max_nm, p.nm AS read_min_nm, p.nm AS read_max_nm,
    2 AS page, 1 AS table_number, p.number AS row_number, p.nm AS place_text,
    [{{'field': 'terminal', 'printed': p.terminal_printed, 'page': 2}}] AS evidence, [] AS missing,
    fold_names(concat_ws(' ', format('Ovrel{{}}', p.made), p.family, format('Type QX{{}}', p.type))) AS device_words,
    fold_names(p.terminal_printed) AS terminal_words,
    fold_names(concat_ws(' ', format('Ovrel{{}} {{}} Type QX{{}}', p.made, p.family, p.type), p.terminal_printed,
        h.title, h.file)) AS all_words,
    list_concat([p.family], asked_families(p.family)) AS says, h.number AS sheet_number, said_roles([p.role]) AS said,
    fold_names(format('Ovrel{{}}', p.made)) AS maker_words, fold_names(format('QX{{}}', p.type)) AS series_words
FROM ({_PARTS}) AS p JOIN sheet AS h ON h.digest = p.sheet"""

_FINDINGS = """
INSERT INTO finding BY NAME
SELECT sheet, id AS setting, 1 AS number, 'terminal_missing' AS code, 'setting' AS scope,
    'nothing printed says which terminal this is' AS message, '' AS printed
FROM setting WHERE state = 'held'"""

def fill(catalogue: Catalogue, settings: int, seed: int = SEED) -> None:
    """Write so many settings, a tenth of them held, into an empty catalogue."""
    refresh_words(catalogue)
    run = catalogue.connection.execute
    sheets = settings // SHEET
    families = list(vocabulary("family"))[:FAMILIES]
    labels = [_labels(language) for language in languages()[:LANGUAGES]]
    asked = {"seed": seed, "sheets": sheets}
    more = {"families": families, "labels": json.dumps(labels), "languages": len(labels)}
    with catalogue.transaction():
        run(_SHEETS, asked)
        run(_SETTINGS, {**asked, **more, "sizes": list(map(str, _SIZES)), "figures": list(map(str, _FIGURES))})
        run(_FINDINGS)
        for note in (NOTE_WORDS, NOTE_COUNTS):
            run(note.format(where="true"))


def _labels(language: str) -> dict[str, list[str]]:
    """Return the first word of a language for each role, where it has one."""
    words = [next(iter(spellings("role", role, language)), role).strip("*|") for role in _ROLES]
    return {"words": words, "roles": list(_ROLES)}


def main() -> int:
    """Write the file; return the exit status."""
    path = Path(sys.argv[1])
    given = [int(one) for one in sys.argv[2:4]]
    settings, seed = (*given, *(1_000_000, SEED)[len(given) :])
    with open_catalogue(path, writing=True) as catalogue:
        fill(catalogue, settings, seed)
    return 0


if __name__ == "__main__":
    sys.exit(main())
