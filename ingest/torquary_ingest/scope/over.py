"""Lines that stand over figures, as texts that speak for them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from torquary_schema.values import ScopeKind, ScopeText

_LINES: tuple[ScopeKind, ...] = ("caption", "list_heading")
_SHORT_WORDS = 4
"""Words at most of a line that ends in a stop and is no sentence."""


def speak_over(lines: Sequence[str], kind: ScopeKind, page: int | None) -> tuple[ScopeText, ...]:
    """Return the lines over figures (top to bottom) as texts that speak for them, nearest first.

    A sentence over a table or list introduces it. Blank lines say nothing.
    """
    spoken = [line.strip() for line in reversed(lines) if line.strip()]
    kinds = ("introduction" if kind in _LINES and is_sentence(line) else kind for line in spoken)
    return tuple(ScopeText(kind=is_, text=line, page=page) for is_, line in zip(kinds, spoken, strict=True))


def is_sentence(line: str) -> bool:
    """Tell whether a line is running text."""
    return line.rstrip().endswith((".", "。", ";", ":")) and len(line.split()) > _SHORT_WORDS


def texts_of(scope: Iterable[ScopeText]) -> tuple[str, ...]:
    """Return the printed texts, in the order given."""
    return tuple(one.text for one in scope)
