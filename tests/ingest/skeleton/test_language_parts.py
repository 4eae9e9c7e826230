"""Parts of a leaflet in several languages, side by side."""

from __future__ import annotations

from set_pages import page

from torquary_ingest.skeleton.language_parts import find_language_parts
from torquary_ingest.skeleton.lines import set_page


def test_a_part_that_says_little_is_one_in_a_row_of_others() -> None:
    texts = {
        50.0: ("EN", "The supply must be off, and it is to be locked."),
        230.0: ("FR", "Couper la tension."),
        400.0: ("DE", "Der Einbau ist nur mit freier Anlage erlaubt."),
    }
    lines = [(text, 9.0, 80.0 + 14 * row, left) for left, part in texts.items() for row, text in enumerate(part)]
    parts = find_language_parts([set_page(page(*lines), ())])
    assert [part.language for part in parts] == ["en", "fr", "de"]
