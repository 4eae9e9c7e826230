"""What the words beside a size say of the conductor: stranding, material, ferrule."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise


@dataclass(frozen=True, slots=True, kw_only=True)
class ConductorWords:
    """Vocabulary keys found in words, and `rest`: the words that say nothing of the conductor.

    `covered` holds the offsets of all characters that belong to a word found.
    """

    stranding: tuple[str, ...] = ()
    material: tuple[str, ...] = ()
    ferrule: bool | None = None
    rest: str = ""
    covered: frozenset[int] = frozenset()

    @property
    def known(self) -> bool:
        """Tell whether the words say anything of the conductor."""
        return bool(self.stranding or self.material) or self.ferrule is not None


@lru_cache(maxsize=4096)
def read_conductor_words(text: str) -> ConductorWords:
    """Return what the words say of the conductor. `ferrule` stays None where with and without both stand."""
    from torquary_schema.words import Kind, spot

    left = list(text)
    covered: set[int] = set()
    found: dict[str, list[str]] = {}
    kinds: tuple[Kind, ...] = ("ferrule", "stranding", "material")
    for kind in kinds:
        for match in spot(kind, text):
            found.setdefault(kind, []).append(match.concept)
            covered.update(range(match.start, match.end))
            left[match.start : match.end] = " " * (match.end - match.start)
    rest = " ".join("".join(left).split()).strip(" .,/-")
    joined = any(len(set(concepts)) > 1 for concepts in found.values())
    ferrules = {_FERRULES.get(concept) for concept in found.get("ferrule", ())}
    return ConductorWords(
        stranding=strandings_in(text),
        material=tuple(dict.fromkeys(found.get("material", ()))),
        ferrule=ferrules.pop() if len(ferrules) == 1 else None,
        rest="" if joined and _only_joins(rest) else rest,
        covered=frozenset(covered),
    )


def strandings_in(text: str) -> tuple[str, ...]:
    """Return how conductors are built by the words of a text, each kind once.

    Of two words with a blank alone between them both speak of one conductor, which the narrower tells: a flexible
    conductor is stranded ("çok telli esnek iletken"; IEC 60228 has class 5 beside class 2).
    """
    from torquary_schema.words import spot

    found = spot("stranding", text)
    pairs = [(one, after) for one, after in pairwise(found) if not text[one.end : after.start].strip()]
    wide = {
        word.start
        for pair in pairs
        for word in pair
        if word.concept == "stranded" and any(other.concept in _FLEXIBLE for other in pair)
    }
    return tuple(dict.fromkeys(match.concept for match in found if match.start not in wide))


def _only_joins(words: str) -> bool:
    """Tell whether words are nothing but "or" and "and", as between two kinds: "copper or aluminium"."""
    from torquary_schema.words import spot

    joints = {match.printed for match in spot("connective", words) if match.concept in ("or", "and")}
    return bool(joints) and set(words.split()) <= joints


_FLEXIBLE = ("flexible", "extra_flexible")
_FERRULES = {"with": True, "without": False}  # "either" says nothing that narrows the figure
