"""Whether a text may bear a torque or conductor figure at all, by units and words that stand anywhere in it."""

from __future__ import annotations

import re
import unicodedata
from functools import cache, lru_cache

from torquary_ingest.lexis.figures import has_figure
from torquary_ingest.openers.pdf.letters import runs_leftwards
from torquary_schema.words import all_spellings

_UNIT = re.compile(
    r"(?:\b|\d|\()[cdmk]?a?n\s?[·.⋅∙•*×x‧・-]?\s?[cm]?m\b"
    r"|lb|pound|kgf|kg\s?[·.⋅*x×-]?\s?c?m\b|\boz|ounce|\bft\b|foot|inch|#"
    r"|newton|ньютон|[нН]\s?[·.⋅-]?\s?[мМ]\b|牛|ニュートン|뉴턴|نيوتن|ניוטון"
    r"|mm\s?[²2]|㎟|awg|kcmil|mcm|qmm",
    re.IGNORECASE,
)

_CONCEPTS = ("torque", "torque_min", "torque_max", "conductor", "conductor_min", "conductor_max")


def can_bear_figure(text: str) -> bool:
    """Tell whether a picture with this text, or its page, may hold a torque or conductor figure.

    Letters may be doubled by bold imitation, spaced out or broken at line ends, so blanks and doubles are
    squeezed out before words are looked for.
    """
    if not has_figure(text):
        return False
    if _UNIT.search(text):
        return True
    squeezed = _squeeze(text)
    single = _undouble(squeezed)
    return any(word in squeezed or _undouble(word) in single for word in _heading_words())


def _squeeze(text: str) -> str:
    plain = "".join(part for part in unicodedata.normalize("NFKD", text) if not unicodedata.combining(part))
    return re.sub(r"[\s\u00ad\u200b-]+", "", plain.casefold())


@lru_cache(maxsize=4096)
def _undouble(text: str) -> str:
    return re.sub(r"(.)\1", r"\1", text)


@cache
def _heading_words() -> tuple[str, ...]:
    """Return every printed word for torques and conductors known to the words data, squeezed."""
    found = {_squeeze(word.strip("*-~")) for word in all_spellings("heading", *_CONCEPTS)}
    # Scripts written from right to left may come out of a file in the order of the paper.
    found |= {word[::-1] for word in found if runs_leftwards(word)}
    return tuple(sorted((word for word in found if len(word) >= 2), key=len))
