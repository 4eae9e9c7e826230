"""A sentence as tokens: quantities first, then the words that the vocabularies know, then what is left of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from torquary_ingest.clauses.quantities import Span, find_figures, find_sizes, range_words, ranges_from_one
from torquary_ingest.clauses.sentences import abbreviations
from torquary_ingest.figures.drives import drive_spans
from torquary_ingest.lexis.endings import spell_endings
from torquary_ingest.lexis.figures import WORD_BEGINS, WORD_ENDS
from torquary_ingest.lexis.threads import thread_spans
from torquary_schema.roles import spot_roles
from torquary_schema.torque_kinds import RATED, TIGHTENING, tightening_words
from torquary_schema.units import find_units
from torquary_schema.words import Kind, Match, fold, spot

_MARKING = re.compile(
    r"(?:(?<![\w.,])|(?<=\.\.))(?:\d/)?(?:[A-Z]{1,2}\d{1,2}(?:/[A-Z]\d)?|PEN?|FE|(?<![^\W_]-)[LNUVW])(?:/?[+-])?(?![\w])"
)
_AFTER = r"\s*(?:°\s?C|%|V(?:\s?[AD]C(?:/[AD]C)?)?|k?W|Hz|bar|kg|g|A(?:\s?[AD]C)?|mA|dB|rpm)(?!\w)"
_NEWTONS = r"\s*k?N(?=\s*(?:[,;.)]|\Z|\n))"
_TO = r"(?:\s*(?:[-–—÷~〜～…]|\.{2,3})\s*\d+(?:[.,]\d+)?)?"
_OTHER_QUANTITY = re.compile(rf"(?<![\w.,/-])\d+(?:[.,]\d+)?{_TO}(?:{_AFTER}|{_NEWTONS})")
_NUMBER = re.compile(rf"{WORD_BEGINS}\d+(?:[.,]\d+)*{WORD_ENDS}")
_WORD = re.compile(r"[^\W\d_](?:[\w]|[-'’](?=\w))*|\d[\w-]*")
_SIGN = {
    ",": "comma", "，": "comma", "、": "comma", ";": "stop", "；": "stop", ".": "stop", "。": "stop", "!": "stop",
    ":": "colon", "：": "colon", "(": "open", "[": "open", "（": "open", ")": "close", "]": "close", "）": "close",
    "–": "dash", "—": "dash", "-": "hyphen", "/": "slash", "&": "and", "+": "and", "|": "stop", "=": "colon",
}  # fmt: skip
_DOTS = re.compile(r"(?:[.…·_]\s?){3,}")
_MORE_OF_TYPE = r"(?:-(?:\d\w*|[A-Z]{1,3}\d*)(?!\w))*"
"""What tells the members of a series apart behind its name: "MB3-100", "MB3-250-HS"."""

_HEADED = ("torque", "torque_min", "torque_max")
_CONNECTIVE = {
    "max": "max",
    "min": "min",
    "and": "and",
    "or": "or",
    "only": "condition",
    "except": "condition",
    "otherwise": "condition",
}
_TORQUES = {TIGHTENING: "tighten", RATED: "torque"}
_KINDS: tuple[Kind, ...] = ("stranding", "material", "ferrule")
_SIGN_LETTERS = 3
NAME_LETTERS = 4
"""Letters of an unread word at least that may name a thing, an owner or what torque it is."""
_OWN_SCREW = "electrical_terminal"
_FORMS = ("clamping_screw", "attribute_before", "attribute_behind")
"""Forms of words that are terminals or screws by another vocabulary; `owners.py` asks for them."""


_HYPHENS = "-‐‑"


@dataclass(frozen=True, slots=True, kw_only=True)
class Token:
    """A stretch of a text and what it is; `start` and `end` are offsets, `concept` says more where a kind has several.

    Kinds: figure, size, thread, drive, device, quantity, time, number (with digits); terminal, role, marking, other,
    fastener, conductor, connection (things); tighten, connect, fix, torque (what is done and with what); max, min,
    exceed, never, condition, variant (what changes a figure); kind (of a conductor), tool, span, same_torque,
    respectively, of, small, strip, word, type (other words); and, or, comma, stop, colon, dash, open, close, …
    """

    kind: str
    start: int
    end: int
    text: str
    concept: str = ""
    span: Span | None = None


@lru_cache(maxsize=2048)
def read_tokens(text: str, members: tuple[str, ...] = ()) -> tuple[Token, ...]:
    """Return the tokens of a text in order; nothing but blanks is left out. `members` are the sheet's devices."""
    printed, text = text, spell_endings(text)
    chosen = (_with_hyphen(_with_stop(token, text), text) for token in _choose(printed, text, members))
    known = sorted(chosen, key=lambda token: token.start)
    found: list[Token] = []
    at = 0
    for token in known:
        found += _between(text, at, token.start)
        found.append(token)
        at = token.end
    found += _between(text, at, len(text))
    return tuple(_without_wraps(found))


def _without_wraps(tokens: list[Token]) -> Iterator[Token]:
    """Leave out the ends of lines, those behind a figure aside: there the next line is an item of its own."""
    last = ""
    for token in tokens:
        if token.kind != "line" or last == "figure":
            yield token
        if token.kind not in ("close", "stop"):
            last = token.kind


def _choose(printed: str, text: str, members: Sequence[str]) -> list[Token]:
    """Return the known stretches; quantities take their place first, then longer words before shorter ones."""
    taken: list[Token] = []
    for layer in (_quantities(printed), _devices(text, members), _ranges_of_marks(text), _shapes(text)):
        _take(layer, taken)
    _take(sorted(_words(_masked(text, taken)), key=lambda one: one.start - one.end), taken)
    return taken


def _take(layer: Iterable[Token], taken: list[Token]) -> None:
    for token in layer:
        if all(token.end <= other.start or other.end <= token.start for other in taken):
            taken.append(token)


def _masked(text: str, taken: Sequence[Token]) -> str:
    """Return a text with the quantities in it as noughts: no word goes over one ("1.5 mm² maximum, torque 0.4 N·m")."""
    letters = list(text)
    for token in taken:
        if token.kind in ("figure", "size"):
            letters[token.start : token.end] = "0" * (token.end - token.start)
    return "".join(letters)


def _quantities(text: str) -> Iterator[Token]:
    for kind, spans in (("figure", find_figures(text)), ("size", find_sizes(text))):
        for span in spans:
            yield Token(
                kind=kind,
                start=span.start,
                end=span.end,
                text=text[span.start : span.end],
                span=span,
            )


def _devices(text: str, members: Sequence[str]) -> Iterator[Token]:
    """Yield the devices named; a range of types of one series is one of them: "AV 17–30", "AV 17 to AV 30"."""
    for member in members:
        series, *numbers = map(re.escape, member.split())
        further = rf"(?:{range_words()}(?:{series}\s)?\d{{1,4}}(?!\w|[.,]\d))?" if numbers else ""
        spelt = r"\s*".join((series, *numbers))
        for match in re.finditer(rf"(?<![\w-]){spelt}{_MORE_OF_TYPE}(?![\w]){further}", text):
            yield _token("device", text, *match.span())


def _ranges_of_marks(text: str) -> Iterator[Token]:
    """Yield the ends of a range of markings from the first one on: "M1 to M6" are no threads, "T1 to T8" no drives."""
    for match in ranges_from_one().finditer(text):
        yield _token("marking", text, *match.span("first"))
        yield _token("marking", text, *match.span("last"))


def _shapes(text: str) -> Iterator[Token]:
    for start, end in drive_spans(text):
        yield _token("drive", text, start, end)
    for start, end in thread_spans(text):
        yield _token("thread", text, start, end)
    for unit in find_units(text):
        number = re.search(
            r"(?:\d+(?:[.,]\d+)?\s*[x×–-]\s*)*\d+(?:[.,]\d+)?\s*$", text[: unit.start]
        )
        if number is not None:
            yield _token("quantity", text, number.start(), unit.end)
    for match in _OTHER_QUANTITY.finditer(text):
        yield _token("quantity", text, *match.span())
    for match in _MARKING.finditer(text):
        yield _token("marking", text, *match.span())


def _words(text: str) -> Iterator[Token]:
    yield from _things(text)
    yield from _torques(text)
    yield from (
        _as(match, "strip") for match in spot("heading", text) if match.concept == "strip_length"
    )
    yield from _sizes_named(text)
    for match in spot("connective", text):
        if match.concept in _CONNECTIVE:
            yield _as(match, _CONNECTIVE[match.concept])
    for kind in _KINDS:
        yield from (_as(match, "kind") for match in spot(kind, text) if not _is_small_word(match, text))
    yield from (_as(one, one.concept) for one in spot("instruction", text) if one.concept not in _FORMS)
    yield from (_as(match, "never") for match in spot("statement", text) if match.concept == "not")
    yield from (
        _as(match, "connection")
        for match in spot("tightened", text)
        if match.concept == "connecting"
    )


def _torques(text: str) -> Iterator[Token]:
    screws = spot("purpose", text)
    for match in map(_without_from, spot("heading", text)):
        if match.concept in _HEADED:
            yield _behind_screw(_as(match, "tighten" if tightening_words(match.printed) else "torque"), screws)
    for match in spot("torque_kind", text):
        yield _as(match, _TORQUES.get(match.concept, "machine"))


def _sizes_named(text: str) -> Iterator[Token]:
    """Yield the words for a conductor's size, "conductor cross-section": they name no conductor of their own."""
    conductors = {(one.start, one.end) for one in spot("instruction", text) if one.concept == "conductor"}
    for match in spot("heading", text):
        if match.concept == "conductor" and (match.start, match.end) not in conductors:
            yield _as(match, "small")


def _without_from(match: Match) -> Match:
    """Return words for a torque without the one that opens a range behind them: "Anzugsdrehmoment von 2 bis 2,5 Nm"."""
    ties = [one for one in spot("connective", match.printed) if one.concept == "from"]
    if not ties or not ties[-1].start or ties[-1].end < len(match.printed):
        return match
    said = match.printed[: ties[-1].start].rstrip()
    return Match(concept="torque", start=match.start, end=match.start + len(said), printed=said)


def _behind_screw(torque: Token, screws: Sequence[Match]) -> Token:
    """Return the words for a torque without the screw that begins before them and reaches in: 安装螺钉 + 拧紧力矩."""
    ends = [one.end for one in screws if one.start < torque.start < one.end < torque.end]
    cut = max(ends, default=torque.start) - torque.start
    said = torque.text[cut:]
    return replace(torque, start=torque.start + cut + len(said) - len(said.lstrip()), text=said.lstrip())


def _things(text: str) -> Iterator[Token]:
    yield from (_as(match, "terminal") for match in spot("tightened", text) if match.concept == "terminal")
    yield from (_as(match, "terminal") for match in spot("clamp", text) if match.concept != "screwless")
    yield from (_as(match, "screwless") for match in spot("clamp", text) if match.concept == "screwless")
    yield from (_as(match, "role") for match in spot_roles(text) if not _is_small_letter(match))
    yield from (
        _as(match, "contact") for match in spot("instruction", text) if match.concept == "contact"
    )
    for match in spot("purpose", text):
        yield _as(match, "terminal" if match.concept == _OWN_SCREW else "other")


def _is_small_word(match: Match, text: str) -> bool:
    """Tell whether a short sign of a metal is printed small: "al" and "med" are prepositions, "Al" is a metal.

    A word cut at a hyphen is none: "ein-/mehrdrähtig".
    """
    small = len(match.printed) <= _SIGN_LETTERS and match.printed.islower() and match.printed.isascii()
    return small and text[match.end : match.end + 1] not in tuple(_HYPHENS)


def _is_small_letter(match: Match) -> bool:
    """Tell whether a marking of one letter is printed small: the "l" of "à l'aide" marks no conductor."""
    return len(match.printed) == 1 and match.printed.islower()


def _as(match: Match, kind: str) -> Token:
    return Token(
        kind=kind, start=match.start, end=match.end, text=match.printed, concept=match.concept
    )


def _with_stop(token: Token, text: str) -> Token:
    """Return words with the full stop of an abbreviation at their end: "Aux. 13, 14", "torque max. 2 N·m"."""
    last = fold(token.text.split()[-1])
    short = text[token.end : token.end + 2] == ". " and last in abbreviations()
    return replace(token, end=token.end + 1, text=f"{token.text}.") if short else token


def _with_hyphen(token: Token, text: str) -> Token:
    """Return a word that is cut at a hyphen with it: "ein-/mehrdrähtig", "Zu- und Abgang"."""
    cut = token.kind in ("kind", "role") and text[token.end : token.end + 1] in _HYPHENS and token.end < len(text)
    if not cut or text[token.end + 1 : token.end + 2].isalnum():
        return token
    said = f"{token.text}{text[token.end]}" if token.kind == "kind" else token.text
    return replace(token, end=token.end + 1, text=said)


def _token(kind: str, text: str, start: int, end: int) -> Token:
    trimmed = text[start:end].rstrip()
    return Token(kind=kind, start=start, end=start + len(trimmed), text=trimmed)


def _between(text: str, start: int, end: int) -> Iterator[Token]:
    """Yield what stands between known words: numbers, unread words, signs, the ends of lines."""
    at = start
    while at < end:
        dots, number, word = (pattern.match(text, at, end) for pattern in (_DOTS, _NUMBER, _WORD))
        if dots is not None:
            found, kind = dots.end(), "colon"
        elif number is not None:
            found, kind = number.end(), "number"
        elif word is not None:
            found, kind = word.end(), "type" if any(map(str.isdigit, word[0])) else "word"
        else:
            found, kind = at + 1, _SIGN.get(text[at], "line" if text[at] == "\n" else "sign")
        if kind != "sign" or not text[at].isspace():
            yield Token(kind=kind, start=at, end=found, text=text[at:found])
        at = found
