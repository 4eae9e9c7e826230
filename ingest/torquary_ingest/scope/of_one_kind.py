"""What a text says of one kind of conductor alone: "ferrules for fine-stranded conductors" is no statement for all."""

from __future__ import annotations

from torquary_schema.words import spot

_NEAR = 2
"""Letters between "for" and the kind of conductor behind it at most."""


def is_of_one_kind(text: str) -> bool:
    """Tell whether a text says what one kind of conductor ends in, before the word "for" or behind a word for using."""
    ferrules = spot("ferrule", text)
    ties = [match for match in spot("connective", text) if match.concept == "for"]
    uses = [match for match in spot("statement", text) if match.concept == "apply"]
    for tie in ties:
        kinds = [kind for kind in spot("stranding", text) if 0 < kind.start - tie.end <= _NEAR]
        before = any(ferrule.end <= tie.start for ferrule in ferrules)
        behind = any(kind.end <= use.start < ferrule.start for kind in kinds for use in uses for ferrule in ferrules)
        if kinds and (before or behind):
            return True
    return False
