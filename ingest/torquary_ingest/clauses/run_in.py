"""The name of a property printed in bold before its value, on the same line: "Output: 0.5–2.5 mm², 0.5 N·m"."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Word
from torquary_schema.roles import says_terminal, spot_roles
from torquary_schema.words import spot


def run_in_name(words: Sequence[Word]) -> Sequence[Word]:
    """Return the words of a line's name up to its colon; none where nothing tells it from the value by its type."""
    at = next((at for at, word in enumerate(words) if word.text.endswith((":", "："))), len(words))
    name, value = words[: at + 1], words[at + 1 :]
    apart = bool(value) and all(word.bold for word in name) and not any(word.bold for word in value)
    return name if apart else ()


def names_screw(name: str) -> bool:
    """Tell whether a name says itself what is tightened: it stands beside the names before, under none of them."""
    return says_terminal(name) or bool(spot_roles(name)) or bool(spot("purpose", name))
