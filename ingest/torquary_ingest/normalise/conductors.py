"""The conductor cells of a reading put together: smallest with largest, mm² with AWG, kinds kept apart."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from torquary_ingest.document import Doubt, Entry
from torquary_ingest.figures.conductor import share_bound
from torquary_ingest.figures.conductor_words import read_conductor_words, strandings_in
from torquary_ingest.figures.kinds import says_none
from torquary_ingest.figures.numbers import DecimalMark
from torquary_ingest.headings.grid import text_of
from torquary_ingest.lexis.cables import without_cable_types
from torquary_ingest.normalise.conductor_limits import limit_by_remark
from torquary_ingest.normalise.taught_units import read_conductor_cell
from torquary_ingest.scope import split_sentences
from torquary_ingest.scope.unread import unread_of
from torquary_schema.values import Conductor
from torquary_schema.words import Kind, spot

_SINGLE = re.compile(r"\d+(?:[.,]\d+)?(?:\s*mm(?:²|2))?(?:\s*[,，;/·]\s*\d+(?:[.,]\d+)?\s*A)?")
"""One size, perhaps with the current that it is rated for."""

_STROKE = re.compile(r"\s+/\s+")
_KINDS: tuple[Kind, ...] = ("stranding", "ferrule", "material")
_COUNT = re.compile(r"([1-6])\s*[x×]?")


_ANSWERS = frozenset({"yes", "no"})
_DENIED: dict[tuple[str, ...], tuple[str, ...]] = {("with",): ("without",), ("aluminium",): ("copper",)}
"""What is left where a kind under a heading is answered with "no"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A conductor with the side ("", "_min", "_max") its column limits."""

    conductor: Conductor
    side: str


def combine_conductors(entries: Sequence[Entry], mark: DecimalMark) -> tuple[tuple[Conductor, ...], tuple[Doubt, ...]]:
    """Return the conductors that a reading's cells print together; none when none is printed."""
    doubts: list[Doubt] = []
    kept: list[Kept] = []
    sized = [entry for entry in entries if entry.field.startswith("conductor")]
    for entry in _without_rated(sized):
        reading = read_conductor_cell(entry, mark)
        doubts += reading.doubts
        if reading.kind == "words" and not reading.doubts:
            doubts.append(_unreadable(entry))
        side = entry.field.removeprefix("conductor")
        kinds = _kinds_in_turn(entry.heading, len(reading.conductors))
        kept += [Kept(conductor=_describe(c, k), side=side) for c, k in zip(reading.conductors, kinds, strict=True)]
    found = _pair_systems(_pair_sides(kept))
    apart = [entry for entry in entries if entry.field in ("stranding", "material", "ferrule", "count")]
    doubts += filter(None, map(_doubt_kind, apart))
    for entry in apart:
        found = [_describe(conductor, entry.cell.text, heading=entry.heading) for conductor in found or [Conductor()]]
    for entry in (entry for entry in apart if entry.field == "count"):
        found, doubted = _counted(found, entry)
        doubts += doubted
    for entry in (entry for entry in entries if entry.field == "note"):
        found, doubted = limit_by_remark(found, entry)
        doubts += doubted
    return tuple(part for one in found for part in _with_ferrules_apart(one)), tuple(doubts)


def _doubt_kind(entry: Entry) -> Doubt | None:
    """Return a doubt for words under a heading for kinds that are not known: "flat bar 32 × 10", "solid, cleaned"."""
    text = without_cable_types(text_of(entry.cell))
    answered = says_none(text) or _ANSWERS.intersection(_concepts("connective", text))
    if entry.field == "count" or not entry.heading or answered or not unread_of(text):
        return None
    message = f"{unread_of(text)!r} stands where the kind of conductor belongs and may limit it"
    return Doubt(code="condition_unread", message=f"{message}; look at the sheet")


def _with_ferrules_apart(one: Conductor) -> tuple[Conductor, ...]:
    """Return a conductor of several kinds, one with ferrules, in two: "solid, or flexible with ferrule".

    A ferrule is pressed over strands (DIN 46228): a solid conductor has none, and the words for it are not its own.
    """
    strands = tuple(kind for kind in one.stranding if kind != "solid")
    if not one.ferrule or not strands or strands == one.stranding:
        return (one,)
    return replace(one, stranding=("solid",), ferrule=None), replace(one, stranding=strands)


def _kinds_in_turn(heading: str, sizes: int) -> Sequence[str]:
    """Return what a heading says of each of several sizes: in turn, where it parts as many kinds as there are sizes.

    "Solid / flexible with ferrule" over "0.75–2.5 mm² / 0.5–1.5 mm²"; else it says the same of each.
    """
    parts = _STROKE.split(heading)
    parted = len(parts) == sizes > 1 and all(any(_concepts(kind, part) for kind in _KINDS) for part in parts)
    return parts if parted else [heading] * sizes


def _without_rated(sized: Sequence[Entry]) -> Sequence[Entry]:
    """Return the cells of sizes without the one a device is called by, where the sizes it takes stand beside it.

    "Nennquerschnitt 2,5" of a terminal block that takes 0,5–4.
    """
    ranges = [entry for entry in sized if not _is_rated(entry)]
    return ranges or sized


def _is_rated(entry: Entry) -> bool:
    """Tell whether a cell gives one size, under a heading for what a terminal is called by."""
    single = _SINGLE.fullmatch(entry.cell.text.strip()) is not None
    return single and "rated_size" in _concepts("instruction", entry.heading)


def _counted(found: list[Conductor], entry: Entry) -> tuple[list[Conductor], list[Doubt]]:
    """Return the conductors with the number of them in one terminal, and a doubt where it is not what they print."""
    number = _COUNT.fullmatch(entry.cell.text.strip())
    if number is None:
        return found, []
    count = int(number[1])
    message = f"{entry.cell.text.strip()!r} under {entry.heading!r} is not the number printed with the size"
    differ = any(conductor.count not in (None, count) for conductor in found)
    doubts = [Doubt(code="condition_unread", message=f"{message}; look at the sheet")] if differ else []
    return [replace(one, count=count if one.system and one.count is None else one.count) for one in found], doubts


def _unreadable(entry: Entry) -> Doubt:
    return Doubt(
        code="conductor_unreadable",
        message=f"{entry.cell.text.strip()!r} stands where a conductor size belongs; read it from the sheet",
    )


def _describe(conductor: Conductor, text: str, *, heading: str = "") -> Conductor:
    """Add stranding, material and ferrule that a text names, where the conductor's own cell is silent.

    A heading is asked only for what the text does not say: "Solid or stranded conductor" heads them all.
    """

    def told(kind: Kind) -> tuple[str, ...]:
        return _concepts(kind, text) or _concepts_of_heading(kind, heading, text)

    strandings = strandings_in(text) or (strandings_in(heading) if told("stranding") else ())
    advised = "advised" in _concepts("connective", text)  # "ferrules recommended": without them as well
    ferrules = () if advised else told("ferrule")
    ferrule = (ferrules == ("with",)) if len(ferrules) == 1 else None
    return replace(
        conductor,
        stranding=conductor.stranding or strandings,
        material=conductor.material or told("material"),
        ferrule=conductor.ferrule if conductor.ferrule is not None else ferrule,
    )


def add_note(conductor: Conductor, note: str) -> Conductor:
    """Return the conductor with what a note on it says of stranding, material or ferrule."""
    return _describe(conductor, " ".join(said for said in split_sentences(note) if not _is_about_kind(said)))


def _is_about_kind(sentence: str) -> bool:
    """Tell whether a sentence says something else of a kind of conductor: "Ferrules with collar: one size less"."""
    kind, colon, rest = sentence.partition(":")
    return bool(colon) and read_conductor_words(kind).known and bool(unread_of(rest))


def _concepts_of_heading(kind: Kind, heading: str, text: str) -> tuple[str, ...]:
    """Return what a heading says of a conductor under it; "yes" and "no" say whether it holds.

    "Al | yes" allows that metal beside another one, "Al | no" leaves copper.
    """
    said = _concepts(kind, heading)
    answers = _concepts("connective", text)
    if "no" in answers:
        return _DENIED.get(said, ())
    return () if "yes" in answers and kind == "material" else said


def _concepts(kind: Kind, text: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(match.concept for match in spot(kind, text)))


def _pair_sides(kept: list[Kept]) -> list[Conductor]:
    """Make one range of a smallest and a largest column of the same system and kind."""
    found: list[Conductor] = []
    every = lows = [k for k in kept if k.side == "_min"]
    for one in kept:
        if one.side == "_max":
            low = _low_of(one.conductor, lows, every)
            lows = [k for k in lows if k is not low]
            found.append(_between(low.conductor if low else None, one.conductor))
        elif not one.side:
            found.append(one.conductor)
    return found + [_between(k.conductor, None) for k in lows]


def _alike(one: Conductor, other: Conductor) -> bool:
    gauges = ("awg", "kcmil")
    system = one.system == other.system or (one.system in gauges and other.system in gauges)
    return system and one.stranding == other.stranding and one.material == other.material


def _low_of(high: Conductor, lows: Sequence[Kept], every: Sequence[Kept]) -> Kept | None:
    """Return the smallest size that goes with a largest: one alike that is left, or one for several kinds."""
    alike = (k for k in lows if _alike(k.conductor, high))
    return next(alike, None) or next((k for k in every if _is_among(high, k.conductor)), None)


def _is_among(high: Conductor, low: Conductor) -> bool:
    """Tell whether a smallest size for several kinds is for that of a largest too: "10 mm² stranded or flexible"."""
    kinds = high.stranding and set(high.stranding) < set(low.stranding)
    return bool(kinds) and _alike(replace(high, stranding=()), replace(low, stranding=()))


def _between(low: Conductor | None, high: Conductor | None) -> Conductor:
    base = high or low
    if base is None:
        raise ValueError("a range needs at least one side")
    printed = " – ".join(side.printed for side in (low, high) if side is not None)
    return replace(
        base,
        printed=printed,
        min_mm2=low.min_mm2 if low else None,
        max_mm2=high.max_mm2 if high else None,
        min_awg=low.min_awg if low else None,
        max_awg=high.max_awg if high else None,
    )


def _pair_systems(conductors: list[Conductor]) -> list[Conductor]:
    """Where one range in mm² and one in AWG are printed for the same kind, keep both in one conductor.

    The only one in AWG that says no kind is of each kind in mm², where none of these says no kind either.
    """
    metric = [c for c in conductors if c.system in ("mm2", "diameter") and c.min_awg is c.max_awg is None]
    gauges = [c for c in conductors if c.system in ("awg", "kcmil") and c.min_mm2 is c.max_mm2 is None]
    if len(gauges) == 1 and metric and (of := _metric_of(gauges[0], metric)):
        return [_with_gauge(one, gauges[0]) if one in of else one for one in conductors if one is not gauges[0]]
    found: list[Conductor] = []
    used: list[Conductor] = []
    for one in conductors:
        if one in metric:
            same = [g for g in gauges if _same_kind(g, one)]
            if len(same) == 1 and len([m for m in metric if _same_kind(m, one)]) == 1:
                used.append(same[0])
                one = _with_gauge(one, same[0])
        found.append(one)
    return [one for one in found if one not in used]


def _metric_of(gauge: Conductor, metric: Sequence[Conductor]) -> Sequence[Conductor]:
    """Return the sizes in mm² that a range in AWG is of, where they are several: all, or those of its kinds."""
    if _is_of_all(gauge, metric):
        return metric
    plain = replace(gauge, stranding=())
    kinds = set(gauge.stranding)
    own = [m for m in metric if m.stranding and _same_kind(plain, replace(m, stranding=()))]
    own = [m for m in own if kinds.issuperset(m.stranding)]
    return own if len(kinds) > 1 and all(set(m.stranding) != kinds for m in metric) else ()


def _is_of_all(gauge: Conductor, metric: Sequence[Conductor]) -> bool:
    """Tell whether a range in AWG is of all the sizes in mm² beside it: it says no kind, and no one of them is its own.

    Its own is the one that says no kind either.
    """
    if not _same_kind(gauge, Conductor()):
        return False
    return len({_sizes(one) for one in metric}) == 1 or not any(_same_kind(gauge, one) for one in metric)


def _sizes(one: Conductor) -> tuple[object, ...]:
    return one.system, one.min_mm2, one.max_mm2


def _with_gauge(metric: Conductor, gauge: Conductor) -> Conductor:
    """Return a size in mm² with the same size as its gauge."""
    printed = f"{metric.printed} / {gauge.printed}"
    return share_bound(replace(metric, printed=printed, min_awg=gauge.min_awg, max_awg=gauge.max_awg))


def _same_kind(one: Conductor, other: Conductor) -> bool:
    return (one.stranding, one.material, one.ferrule, one.count) == (
        other.stranding,
        other.material,
        other.ferrule,
        other.count,
    )
