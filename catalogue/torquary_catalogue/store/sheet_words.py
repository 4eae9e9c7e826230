"""The words of each sheet: what a question looks into before it looks into settings."""

from __future__ import annotations

from torquary_catalogue.store.connection import Catalogue

_DROP = "DELETE FROM sheet_words WHERE sheet = $sheet"
_NOTE = """
INSERT INTO sheet_words BY NAME
SELECT w.sheet, string_agg(DISTINCT w.word, ' ' ORDER BY w.word) AS all_words
FROM (SELECT sheet, unnest(string_split(all_words, ' ')) AS word FROM setting WHERE sheet = $sheet) AS w
GROUP BY w.sheet"""


def note_words(catalogue: Catalogue, sheet: str) -> None:
    """Write the words of a sheet (its digest) anew, after the names of its settings were written or changed."""
    for query in (_DROP, _NOTE):
        catalogue.connection.execute(query, {"sheet": sheet})
