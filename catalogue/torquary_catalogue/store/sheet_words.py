"""The words of settings and sheets: what a question looks into before it looks into settings."""

from __future__ import annotations

from torquary_catalogue.store.connection import Catalogue

_DEVICE = "setting.device_printed, setting.series, setting.model"
_NAMES = f"coalesce(setting.maker, h.maker), setting.family, {_DEVICE}"
_OF_SETTINGS = f"""
UPDATE setting SET
    device_words = fold_names(concat_ws(' ', {_NAMES})),
    terminal_words = fold_names(setting.terminal_printed),
    all_words = concat_ws(' ',
        fold_names(concat_ws(' ', {_NAMES}, setting.rated_current, setting.terminal_printed, h.title, h.files)),
        join_names(concat_ws(' | ', {_DEVICE}, setting.terminal_printed, h.title)),
        types_of(setting.device_printed)),
    amps = amps_of(concat_ws(' | ', regexp_replace(setting.rated_current, '[0-9]\\s*$', '\\0 A'), {_DEVICE}))
FROM (SELECT s.maker, s.title, concat_ws(' ', s.file, string_agg(DISTINCT n.file, ' ' ORDER BY n.file)) AS files
      FROM sheet AS s LEFT JOIN sheet_name AS n ON n.sheet = s.digest AND n.file <> s.file
      WHERE s.digest = $sheet GROUP BY s.digest, s.maker, s.title, s.file) AS h
WHERE setting.sheet = $sheet"""
# The terminal's own name goes before the device's: a list of "Earth and neutral bars" has some of each.
_SAYS = """
UPDATE setting SET says = list_sort(list_distinct(list_concat(
    list_filter([setting.family], lambda f: f IS NOT NULL), n.wider, n.found, n.curves)))
FROM (
    WITH named AS (
        SELECT id, family, fold_text(concat_ws(' ', device_printed, series, model)) AS device,
            fold_text(terminal_printed) AS terminal,
            fold_text(array_to_string([x.text FOR x IN coalesce(scope, [])], ' ')) AS texts
        FROM setting WHERE sheet = $sheet
    ),
    spoken AS (
        SELECT p.text, list_distinct(list(k.kind || ':' || k.concept)) AS found
        FROM (SELECT text, unnest(phrases_of(text)) AS phrase
              FROM (SELECT device AS text FROM named UNION SELECT terminal FROM named)) AS p
        JOIN known_word AS k ON k.spelling = p.phrase AND k.kind IN ('family', 'part') AND k.fit = 'whole'
        GROUP BY p.text
    )
    SELECT m.id, asked_families(m.family) AS wider,
        list_concat(
            CASE WHEN len(bars_in(t.found)) > 0 THEN bars_in(t.found)
                 WHEN m.family IS NULL OR len(bars_in(d.found)) > 0 THEN keys_of(d.found, 'family') ELSE [] END,
            keys_of(t.found, 'part')) AS found,
        curves_of(concat_ws(' ', m.texts, m.device)) AS curves
    FROM named AS m LEFT JOIN spoken AS d ON d.text = m.device LEFT JOIN spoken AS t ON t.text = m.terminal
) AS n WHERE setting.sheet = $sheet AND setting.id = n.id"""
_DROP = "DELETE FROM sheet_words WHERE sheet = $sheet"
_OF_SHEET = """
INSERT INTO sheet_words BY NAME
SELECT w.sheet, string_agg(DISTINCT w.word, ' ' ORDER BY w.word) AS all_words
FROM (SELECT sheet, unnest(list_concat(string_split(all_words, ' '), says)) AS word
      FROM setting WHERE sheet = $sheet) AS w
GROUP BY w.sheet"""


def note_words(catalogue: Catalogue, sheet: str) -> None:
    """Write the words of a sheet (its digest) and its settings, after a name of any of them was written or changed."""
    for query in (_OF_SETTINGS, _SAYS, _DROP, _OF_SHEET):
        catalogue.connection.execute(query, {"sheet": sheet})


def note_all_words(catalogue: Catalogue) -> None:
    """Write the words of every sheet anew, after the words that people ask with have changed."""
    for row in catalogue.rows("SELECT DISTINCT sheet FROM setting"):
        note_words(catalogue, row["sheet"])
