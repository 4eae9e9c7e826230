"""The words of settings and sheets: what a question looks into before it looks into settings."""

from __future__ import annotations

from torquary_catalogue.store.connection import Catalogue

_NAMES = "coalesce(setting.maker, h.maker), setting.family, setting.device_printed, setting.series, setting.model"
_OF_SETTINGS = f"""
UPDATE setting SET
    device_words = fold_names(concat_ws(' ', {_NAMES})),
    terminal_words = fold_names(setting.terminal_printed),
    all_words = fold_names(concat_ws(' ', {_NAMES}, setting.rated_current, setting.terminal_printed, h.title, h.files))
FROM (SELECT s.maker, s.title, concat_ws(' ', s.file, string_agg(DISTINCT n.file, ' ' ORDER BY n.file)) AS files
      FROM sheet AS s LEFT JOIN sheet_name AS n ON n.sheet = s.digest AND n.file <> s.file
      WHERE s.digest = $sheet GROUP BY s.digest, s.maker, s.title, s.file) AS h
WHERE setting.sheet = $sheet"""
_DROP = "DELETE FROM sheet_words WHERE sheet = $sheet"
_OF_SHEET = """
INSERT INTO sheet_words BY NAME
SELECT w.sheet, string_agg(DISTINCT w.word, ' ' ORDER BY w.word) AS all_words
FROM (SELECT sheet, unnest(string_split(all_words, ' ')) AS word FROM setting WHERE sheet = $sheet) AS w
GROUP BY w.sheet"""


def note_words(catalogue: Catalogue, sheet: str) -> None:
    """Write the words of a sheet (its digest) and its settings, after a name of any of them was written or changed."""
    for query in (_OF_SETTINGS, _DROP, _OF_SHEET):
        catalogue.connection.execute(query, {"sheet": sheet})
