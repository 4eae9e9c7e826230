"""The words of settings and sheets: what a question looks into before it looks into settings."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_catalogue.store.connection import Catalogue

_DEVICE = "s.device_printed, s.series, s.model"
_NAMES = f"coalesce(s.maker, h.maker), s.family, {_DEVICE}"
# Making ready to fold takes longer than folding a sheet's names: all texts go through one call. The first five are
# folded a second time without their hyphens, as fold_names does it.
_TEXTS = f"""[
    concat_ws(' ', {_NAMES}),
    s.terminal_printed,
    concat_ws(' ', {_NAMES}, s.rated_current, s.terminal_printed, h.title, h.files),
    coalesce(nullif(s.maker, ''), h.maker),
    concat_ws(' ', s.series, s.model)]"""
_FOLDED = f"""fold_each(list_concat({_TEXTS}, list_transform({_TEXTS}, lambda t: leave_out_hyphens(t)), [
    join_types(concat_ws(' | ', {_DEVICE}, s.terminal_printed, h.title)),
    concat_ws(' ', {_DEVICE}),
    array_to_string([x.text FOR x IN coalesce(s.scope, [])], ' ')]))"""
# The terminal's own name goes before the device's: a list of "Earth and neutral bars" has some of each.
_SAYS = """list_sort(list_distinct(list_concat(
    list_filter([n.family], lambda f: f IS NOT NULL), asked_families(n.family),
    CASE WHEN len(bars_in(t.found)) > 0 THEN bars_in(t.found)
         WHEN n.family IS NULL OR len(bars_in(d.found)) > 0 THEN keys_of(d.found, 'family') ELSE [] END,
    keys_of(t.found, 'part'), curves_of(concat_ws(' ', n.f[13], n.f[12])))))"""
_OF_SETTINGS = f"""
WITH head AS (
    SELECT s.digest, s.number, s.maker, s.title,
        concat_ws(' ', s.file, string_agg(DISTINCT n.file, ' ' ORDER BY n.file)) AS files
    FROM sheet AS s LEFT JOIN sheet_name AS n ON n.sheet = s.digest AND n.file <> s.file
    WHERE s.digest IN (SELECT unnest($sheets::VARCHAR[])) GROUP BY s.digest, s.number, s.maker, s.title, s.file
),
named AS (
    SELECT s.sheet, s.id, s.family, {_FOLDED} AS f, h.number, types_of(s.device_printed) AS types,
        said_roles(s.roles) AS said,
        amps_of(concat_ws(' | ', regexp_replace(s.rated_current, '[0-9]\\s*$', '\\0 A'), {_DEVICE})) AS amps
    FROM setting AS s JOIN head AS h ON h.digest = s.sheet
),
spoken AS (
    SELECT p.text, list_distinct(list(k.kind || ':' || k.concept)) AS found
    FROM (SELECT text, unnest(phrases_of(text)) AS phrase
          FROM (SELECT f[12] AS text FROM named UNION SELECT f[2] FROM named)) AS p
    JOIN known_word AS k ON k.spelling = p.phrase AND k.kind IN ('family', 'part') AND k.fit = 'whole'
    GROUP BY p.text
)
UPDATE setting SET sheet_number = m.number,
    device_words = m.f[1] || ' ' || m.f[6], terminal_words = m.f[2] || ' ' || m.f[7],
    all_words = concat_ws(' ', m.f[3], m.f[8], m.f[11], m.types),
    maker_words = m.f[4] || ' ' || m.f[9], series_words = m.f[5] || ' ' || m.f[10],
    said = m.said, amps = m.amps, says = m.says
FROM (SELECT n.*, {_SAYS} AS says
      FROM named AS n LEFT JOIN spoken AS d ON d.text = n.f[12] LEFT JOIN spoken AS t ON t.text = n.f[2]) AS m
WHERE setting.sheet = m.sheet AND setting.id = m.id"""
_NUMBERS = "SELECT number FROM sheet WHERE digest IN (SELECT unnest($sheets::VARCHAR[]))"
_DROP = f"DELETE FROM {{table}} WHERE sheet_number IN ({_NUMBERS})"
NOTE_WORDS = """
INSERT INTO sheet_word BY NAME
SELECT DISTINCT unnest(list_concat(string_split(all_words, ' '), says)) AS word, sheet_number
FROM setting WHERE {where} ORDER BY word, sheet_number"""
NOTE_COUNTS = """
INSERT INTO sheet_count BY NAME
SELECT c.sheet_number, c.kind, c.name, count(*) AS settings
FROM (SELECT s.sheet_number, unnest(list_concat(
          [{{'kind': 'sheet', 'name': ''}}, {{'kind': 'maker', 'name': coalesce(nullif(s.maker, ''), h.maker)}}],
          CASE WHEN s.purpose = 'electrical_terminal' AND s.state IN ('released', 'held')
              THEN list_append([{{'kind': 'family', 'name': f}} FOR f IN
                  CASE WHEN s.family IS NULL THEN s.says ELSE [s.family] END],
                  {{'kind': 'device', 'name': coalesce(s.model, s.series, s.device_printed, '')}})
              ELSE [] END), recursive := true)
      FROM setting AS s JOIN sheet AS h ON h.number = s.sheet_number WHERE {where}) AS c
GROUP BY ALL ORDER BY ALL"""
"""How words and counts are noted from settings that know what they say; `where` tells which."""
_OF_SHEETS = tuple(note.format(where=f"sheet_number IN ({_NUMBERS})") for note in (NOTE_WORDS, NOTE_COUNTS))

_MOST = 500
"""Sheets whose words are told in one statement: those of many have no room in memory."""


def drop_words(catalogue: Catalogue, sheets: Sequence[str]) -> None:
    """Forget the words of sheets (digests), and what was counted of them."""
    for table in ("sheet_word", "sheet_count"):
        catalogue.connection.execute(_DROP.format(table=table), {"sheets": sheets})


def note_words(catalogue: Catalogue, sheet: str) -> None:
    """Write the words of a sheet (its digest) and its settings, after a name of any of them was written or changed."""
    if catalogue.batch is None:
        note_words_of(catalogue, [sheet])
    else:
        catalogue.batch.sheets[sheet] = None


def note_words_of(catalogue: Catalogue, sheets: Sequence[str]) -> None:
    """Write the words of sheets (digests) and their settings."""
    for start in range(0, len(sheets), _MOST):
        some = [*sheets[start : start + _MOST]]
        drop_words(catalogue, some)
        for query in (_OF_SETTINGS, *_OF_SHEETS):
            catalogue.connection.execute(query, {"sheets": some})


def note_all_words(catalogue: Catalogue) -> None:
    """Write the words of every sheet anew, after the words that people ask with have changed."""
    note_words_of(catalogue, [row["sheet"] for row in catalogue.rows("SELECT DISTINCT sheet FROM setting")])
