"""The torques of an item's text, each as a clause: its figure, what it is for, and all that is said of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.clauses.claims import Spoken, group_parts
from torquary_ingest.clauses.clause import Clause, Stretch
from torquary_ingest.clauses.conditions import find_unread, is_understood, may_number, side_of
from torquary_ingest.clauses.conductors import tell_kinds
from torquary_ingest.clauses.lugs import doubt_lug
from torquary_ingest.clauses.members import devices_of
from torquary_ingest.clauses.naming import Named, Placed, name_figure
from torquary_ingest.clauses.parts import Part, cut_parts, gather, part_at_stops, without_others
from torquary_ingest.clauses.sentences import cut_sentences
from torquary_ingest.clauses.thing import Thing
from torquary_ingest.clauses.together import doubt_alike, inherit_kinds, join_bounds
from torquary_ingest.clauses.tokens import NAME_LETTERS, Token
from torquary_ingest.document import Doubt
from torquary_schema.torque_kinds import tightening_words
from torquary_schema.units import find_units

_SIZE_LINE = re.compile(r"(?<=[^\W\d])\n(?=\d+(?:[.,]\d+)?\s*[–—-]\s*\d)")
"""The end of a line behind a word, before a line that a range begins: sizes one under the other, each with its kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sentence:
    offset: int
    text: str
    parts: tuple[Part, ...]

    @property
    def placed(self) -> list[Placed]:
        return [(self.offset, part) for part in self.parts]


def read_clauses(text: str, members: tuple[str, ...] = (), *, valued: bool = False) -> tuple[Clause, ...]:
    """Return the clauses of an item's text that give a torque to set, in printed order.

    `members` are the devices that the sheet tells apart. `valued` tells that the text is a property's value: what it
    says of other matters ("230 V AC; 0.4 N·m") is no condition of its one torque.
    """
    cut = [(at, said, cut_parts(said, members)) for at, said in cut_sentences(text)]
    lone = valued and len([part for _, _, parts in cut for part in parts if part.figure]) == 1
    sentences = [
        _Sentence(offset=at, text=said, parts=without_others(parts) if lone else parts)
        for at, said, parts in cut
    ]
    found: list[Clause] = []
    before: list[Placed] = []
    for sentence in sentences:
        found += _read_sentence(sentence, before)
        before += sentence.placed
    clauses = doubt_alike(join_bounds(inherit_kinds(_fill_sizes(found, sentences))))
    return tuple(map(tell_kinds, clauses))


def read_sizes(text: str, start: int) -> tuple[Stretch, ...]:
    """Return the conductor sizes of an item from `start` on, each with the kinds told of it; none if more is said."""
    said = text[start:]
    parts = cut_parts(said)
    found = [one for token in gather(parts, "size") for one in _stretches(token, 0, said)]
    sizes = tuple(replace(one, start=start + one.start, end=start + one.end) for one in found)
    kinds = tuple(_stretch(start, token) for token in gather(parts, "kind"))
    clause = Clause(start=start, end=len(text), figures=(), sizes=sizes, kinds=kinds)
    return tell_kinds(clause).sizes if not any(find_unread(parts, parts[0])) else ()


def _read_sentence(sentence: _Sentence, before: Sequence[Placed]) -> Iterator[Clause]:
    spoken = group_parts(sentence.parts)
    if any(_is_other(one) for one in spoken):
        return
    for one in spoken:
        at = sentence.parts.index(one.part)
        placed = sentence.placed
        behind = placed[at + 1 :] if len(spoken) == 1 else []
        named = name_figure(placed[at], [*before, *placed[:at]], behind)
        named = doubt_lug(named, placed[at], [*before, *placed[: at + 1]])
        clause = _make(sentence, one, named)
        devices = devices_of(one, sentence.parts, sentence.offset, before)
        clause = replace(clause, devices=tuple(_stretch(offset, token) for offset, token in devices))
        clause = _with_quantity(clause, one, _quantity_of(sentence.parts, before))
        yield from (each for one in _align(sentence, named, clause) for each in _apart(named, one))


def _align(sentence: _Sentence, named: Named, clause: Clause) -> Iterator[Clause]:
    """Yield a clause for each of several figures in the order of the things named ("2.5 and 2.0 N·m respectively").

    Where nothing says so, or their numbers differ, they are one clause with a doubt.
    """
    figures = clause.figures
    if not any(figure.unit for figure in figures):
        yield clause
        return
    members = named.things[0][1].members if len(named.things) == 1 else ()
    if gather(sentence.parts, "respectively") and len(members) == len(figures):
        for member, figure in zip(members, figures, strict=True):
            yield replace(clause, figures=(figure,), names=(replace(clause.names[0], text=member),))
        return
    message = "several figures stand in the sentence and nothing says which is for what"
    yield replace(clause, doubts=(*clause.doubts, _doubt("condition_unread", message)))


def _apart(named: Named, clause: Clause) -> Iterator[Clause]:
    """Yield a clause for each of the names that its figure is for, where each has markings of its own."""
    offset, thing = named.things[0] if len(named.things) == 1 else (0, None)
    if thing is None or not thing.apart or len(clause.names) != 1 or clause.names[0].text != thing.text:
        yield clause
        return
    for start, end, text in thing.apart:
        yield replace(clause, names=(Stretch(start=offset + start, end=offset + end, text=text),))


def _is_other(spoken: Spoken) -> bool:
    """Tell whether a figure is the torque of a machine or test, or the range of a tool."""
    figure = spoken.part.figure
    spans = [
        token
        for token in spoken.part.of("span")
        if figure is not None and token.end <= figure.start
    ]
    return bool(gather(spoken.own, "machine")) or bool(spans and spoken.part.of("tool"))


def _make(sentence: _Sentence, spoken: Spoken, named: Named) -> Clause:
    figure = spoken.part.figure
    assert figure is not None
    offset = sentence.offset
    names = tuple(_stretch(at, thing) for at, thing in named.things)
    starts = [sentence.offset + spoken.own[0].start, *(one.start for one in names)]
    end = spoken.own[-1].end
    figures = gather(spoken.own, "figure")
    sizes, kinds = _conductors(sentence, spoken.claims("size"), spoken.claims("kind"), figures)
    return Clause(
        start=min(starts),
        end=offset + end + (sentence.text[end:] == "."),
        figures=tuple(_stretches(figure, offset, sentence.text)),
        side=side_of(spoken.part)[0],
        names=names,
        general=_stretch(*named.general) if named.general else None,
        again=named.again,
        quantity=" ".join(token.text for token in spoken.part.of("tighten", "torque")[:1]),
        sizes=sizes,
        kinds=kinds,
        threads=tuple(_stretch(offset, token) for token in spoken.claims("thread")),
        drives=tuple(_stretch(offset, token) for token in spoken.claims("drive")),
        doubts=tuple(_doubts_of(spoken, named)),
    )


def _fill_sizes(clauses: Sequence[Clause], sentences: Sequence[_Sentence]) -> list[Clause]:
    """Return the clauses, each without sizes with those that another sentence of the item gives for it.

    The only clause of an item has those of the one sentence with sizes, one of several those beside its own name.
    """
    sized = [sentence for sentence in sentences if gather(sentence.parts, "size")]
    if len(clauses) == 1:
        return [_with_sizes(clauses[0], sized)]
    named = [tuple(one.start for one in clause.names) for clause in clauses]
    alone = [len(starts) == 1 and named.count(starts) == 1 for starts in named]
    return [
        _with_sizes(clause, [one for one in sized if own and _holds(one, clause.names[0])])
        for clause, own in zip(clauses, alone, strict=True)
    ]


def _holds(sentence: _Sentence, name: Stretch) -> bool:
    """Tell whether a sentence names what a figure is for, and gives no size beside another figure before a stop."""
    inside = sentence.offset <= name.start < sentence.offset + len(sentence.text)
    at = name.start - sentence.offset
    other = (run for run in part_at_stops(sentence.parts) if not run[0].start <= at < run[-1].end)
    return inside and not any(gather(run, "size") and gather(run, "figure") for run in other)


def _with_sizes(clause: Clause, sized: Sequence[_Sentence]) -> Clause:
    """Return a clause with the sizes of the sentence that has any, or of bullets that each have a kind of their own."""
    if clause.sizes or not sized or not _speak_of_one(sized):
        return clause
    told = [_conductors(one, _sizes_of(one), gather(one.parts, "kind"), ()) for one in sized]
    sizes, kinds = (tuple(one for each in column for one in each) for column in zip(*told, strict=True))
    start = min([clause.start, *(one.start for one in sizes)])
    return replace(clause, start=start, sizes=sizes, kinds=clause.kinds or kinds)


def _speak_of_one(sized: Sequence[_Sentence]) -> bool:
    """Tell whether sentences with sizes are of one thing, and under no condition."""
    parts = [part for sentence in sized for part in sentence.parts if part.of("size")]
    listed = len(sized) > 1
    if listed and not all(gather(one.parts, "kind") for one in sized):
        return False
    several = any(part.things() for part in (parts if listed else parts[1:]))
    variants = (not is_understood(part, token) for part in parts for token in part.of("variant"))
    return not (several or any(variants) or gather(parts, "condition", "never", "figure"))


def _sizes_of(sentence: _Sentence) -> list[Token]:
    return [token for token in gather(sentence.parts, "size") if not (token.span and token.span.listed)]


def _conductors(
    sentence: _Sentence, sizes: Sequence[Token], kinds: Sequence[Token], figures: Sequence[Token]
) -> tuple[tuple[Stretch, ...], tuple[Stretch, ...]]:
    """Return the sizes and kinds of conductors; sizes that each have a kind of their own as one text with their kinds.

    "Solid 4 to 35 mm², flexible with ferrule 2.5 to 25 mm²" is read as the cell of a table is.
    """
    offset = sentence.offset
    systems = [unit.kind for token in sizes for unit in find_units(token.text)[:1]]
    if kinds and len(set(systems)) < len(systems):
        said = sorted((*sizes, *kinds), key=lambda token: token.start)
        start, end = said[0].start, max(token.end for token in said)
        open_bracket = sentence.text[start:end].count("(") > sentence.text[start:end].count(")")
        end += open_bracket and sentence.text[end:][:1] == ")"
        if not any(start < token.start < end for token in figures):
            text = "\n".join(" ".join(one.split()) for one in _SIZE_LINE.split(sentence.text[start:end]))
            return (Stretch(start=offset + start, end=offset + end, text=text),), ()
    parts = (one for token in sizes for one in _stretches(token, offset, sentence.text))
    return tuple(parts), tuple(_stretch(offset, token) for token in kinds)


def _doubts_of(spoken: Spoken, named: Named) -> Iterator[Doubt]:
    """Yield what makes a clause doubtful: what it does not understand, what may be tightened, what may be meant."""
    unread = [*find_unread([*spoken.lead, *spoken.own], spoken.part)]
    unclear = side_of(spoken.part)[1]
    if unread or unclear:
        yield _doubt("condition_unread", _said(unread or [unclear]))
    if numbered := may_number(spoken.part):
        yield _doubt("number_ambiguous", _numbered(numbered))
    if named.fault:
        yield _doubt("terminal_missing", named.fault)
    if spoken.unclear:
        yield _doubt(
            "condition_unread",
            "a part of the sentence may speak for either figure; look at the sheet",
        )


def _said(unread: Sequence[str]) -> str:
    return f"the text also says {', '.join(map(repr, dict.fromkeys(unread)))}; decide when the figure holds"


def _numbered(text: str) -> str:
    return f"in {text!r} the number may mark the terminal or begin a range; look at the sheet"


def _doubt(code: str, message: str) -> Doubt:
    return Doubt(code=code, message=message)


def _stretch(offset: int, one: Token | Thing) -> Stretch:
    return Stretch(start=offset + one.start, end=offset + one.end, text=" ".join(one.text.split()))


def _stretches(token: Token, offset: int, sentence: str) -> Iterator[Stretch]:
    for start, end, unit in token.span.parts if token.span is not None else ():
        yield Stretch(
            start=offset + start,
            end=offset + end,
            text=" ".join(sentence[start:end].split()),
            unit=unit,
        )


def _with_quantity(clause: Clause, spoken: Spoken, shared: str) -> Clause:
    """Return a clause with the words for tightening that it shares with others of its item.

    Where none are, an unread word may say that the figure is another torque: "the screws shear off at 4 N·m".
    Where a conductor is connected it says nothing of the kind.
    """
    unread = [token.text for token in spoken.part.of("word") if len(token.text) >= NAME_LETTERS]
    tightened = bool(spoken.part.of("tighten")) or bool(tightening_words(shared))
    tightened = tightened or bool(spoken.part.of("connect") or spoken.part.things("conductor"))
    if tightened or not unread:
        return replace(clause, quantity=clause.quantity or shared)
    message = f"{' '.join(unread)!r} was not understood and may say what torque it is; say whether screws are set to it"
    return replace(clause, doubts=(*clause.doubts, _doubt("quantity_missing", message)))


def _quantity_of(parts: Sequence[Part], before: Sequence[Placed]) -> str:
    """Return the words for tightening that a figure shares with others of its sentence or item."""
    for tokens in (
        gather(parts, "tighten"),
        gather((part for _, part in before), "tighten"),
        gather(parts, "torque"),
    ):
        if tokens:
            return tokens[-1].text
    return ""
