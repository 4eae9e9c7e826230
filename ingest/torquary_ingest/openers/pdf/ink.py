"""Ink that no character accounts for: bars through words, drawn points and drawn dashes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from torquary_ingest.document import Doubt, Rule, Word
from torquary_ingest.lexis.figures import has_figure
from torquary_ingest.openers.pdf.paint import Bounds, Painting, Path, meet
from torquary_ingest.openers.pdf.ruling import Stretch
from torquary_ingest.openers.pdf.visibility import Grounds
from torquary_schema.values import Box

SPOT = 0.7
"""A drawing up to this part of the font size may stand for a character."""



def find_struck(words: Sequence[Word], rules: Sequence[Rule], slants: Sequence[Bounds]) -> tuple[set[int], list[Rule]]:
    """Return the indexes of words with a bar or slanted line through them, and the bars among the rules.

    A bar through a word runs at the height of its small letters and goes hardly beyond the words it strikes;
    a rule of the table goes on.
    """
    struck: set[int] = set()
    bars: list[Rule] = []
    numbered = list(enumerate(words))
    upright = [(index, word) for index, word in numbered if word.turn not in (90, 270)]
    sideways = [(index, word) for index, word in numbered if word.turn in (90, 270)]
    for rule in rules:
        hit = [index for index, word in (upright if rule.horizontal else sideways) if _crosses(rule, word)]
        if not hit:
            continue
        first = min(_span(words[index])[0] for index in hit)
        last = max(_span(words[index])[1] for index in hit)
        spill = 1.2 * max(words[index].size for index in hit)
        if rule.start >= first - spill and rule.end <= last + spill:
            struck.update(hit)
            bars.append(rule)
    for slant in slants:
        struck.update(index for index, word in enumerate(words) if _slants_through(slant, word))
    return struck, bars


def _span(word: Word) -> tuple[float, float]:
    return (word.box.top, word.box.bottom) if word.turn in (90, 270) else (word.box.x0, word.box.x1)


def _crosses(rule: Rule, word: Word) -> bool:
    """Tell whether a rule along the word's direction runs through it."""
    if word.turn == 0:
        through = word.size > 0 and 0.12 <= (word.baseline - rule.at) / word.size <= 0.56
    else:
        low, high = (word.box.top, word.box.bottom) if rule.horizontal else (word.box.x0, word.box.x1)
        through = low + 0.3 * (high - low) <= rule.at <= high - 0.3 * (high - low)
    if not through:
        return False
    start, end = _span(word)
    return min(rule.end, end) - max(rule.start, start) >= 0.5 * (end - start)


def _slants_through(slant: Bounds, word: Word) -> bool:
    box = (word.box.x0, word.box.top, word.box.x1, word.box.bottom)
    common = meet(box, slant)
    covers = common[2] - common[0] >= 0.6 * word.box.width and common[3] - common[1] >= 0.3 * word.box.height
    own_size = slant[2] - slant[0] <= 1.6 * word.box.width + 2 * word.size
    return covers and own_size and slant[3] - slant[1] <= 2.5 * word.size


def find_slants(painting: Painting, grounds: Grounds) -> list[Bounds]:
    """Return the boxes of visible slanted strokes (a cross or stroke through a word)."""
    found = []
    for path in painting.paths:
        if not (path.stroked and path.straight and path.shown) or not _is_inked(path, grounds):
            continue
        steps = list(pairwise(path.points))
        if len(steps) > 2 and all(abs(x0 - x1) > 0.5 and abs(y0 - y1) > 0.5 for (x0, y0), (x1, y1) in steps):
            found.append(path.box)  # a zigzag
        for (x0, y0), (x1, y1) in steps:
            if abs(x0 - x1) > 2 and abs(y0 - y1) > 2:
                found.append((min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)))
    return found


def find_spots(
    painting: Painting, grounds: Grounds, loose: Sequence[Stretch], ruled: set[int], bars: Sequence[Box] = ()
) -> list[Bounds]:
    """Return the boxes of small drawings that may stand for a character: discs, squares, short strokes.

    `bars` are strokes of fractions, which their text tells already.
    """
    spots = [
        (one.start, one.at - 0.2, one.end, one.at + 0.2)
        if one.horizontal
        else (one.at - 0.2, one.start, one.at + 0.2, one.end)
        for one in loose
    ]
    for path in painting.paths:
        if not path.shown or not (path.filled or path.stroked) or path.order in ruled:
            continue
        box = meet(meet(path.box, path.clip), painting.bounds)
        across, down = box[2] - box[0], box[3] - box[1]
        if max(across, down) <= 12 and max(across, down) > 0.2 and _is_inked(path, grounds):
            spots.append(box)
    for image in painting.images:
        box = meet(meet(image.box, image.clip), painting.bounds)
        if image.shown and 0.2 < max(box[2] - box[0], box[3] - box[1]) <= 12:
            spots.append(box)
    return [spot for spot in spots if not any(_is_bar(spot, bar) for bar in bars)]


def _is_bar(spot: Bounds, bar: Box) -> bool:
    ends = (bar.x0, bar.top, bar.x1, bar.bottom)
    return all(abs(one - other) <= 0.6 for one, other in zip(spot, ends, strict=True))


def _is_inked(path: Path, grounds: Grounds) -> bool:
    x, y = (path.box[0] + path.box[2]) / 2, (path.box[1] + path.box[3]) / 2
    if any(ground.order > path.order for ground in grounds.at(x, y)):
        return False
    if path.filled and path.fill_alpha > 0.05 and not grounds.is_blank(path.fill_colour, x, y, path.order):
        return True
    return path.stroked and path.stroke_alpha > 0.05 and not grounds.is_blank(path.stroke_colour, x, y, path.order)


def find_inked(words: Sequence[Word], spots: Sequence[Bounds]) -> set[int]:
    """Return the indexes of words with a digit that a small drawing touches or stands between."""
    inked: set[int] = set()
    lines = [index for index, word in enumerate(words) if word.turn == 0 and has_figure(word.text)]
    for spot in spots:
        middle = (spot[1] + spot[3]) / 2
        near = [
            index
            for index in lines
            if words[index].baseline - 0.85 * words[index].size
            <= middle
            <= words[index].baseline + 0.2 * words[index].size
            and spot[3] - spot[1] <= SPOT * words[index].size
            and spot[2] - spot[0] <= 1.3 * words[index].size
        ]
        touching = [index for index in near if _gap(words[index], spot) <= 0.02 * words[index].size]
        before = [
            index
            for index in near
            if words[index].box.x1 <= spot[0] + 0.3 and _gap(words[index], spot) <= 0.5 * words[index].size
        ]
        after = [
            index
            for index in near
            if words[index].box.x0 >= spot[2] - 0.3 and _gap(words[index], spot) <= 0.5 * words[index].size
        ]
        inked.update(touching)
        if before and after:
            inked.update(before + after)
    return inked


def _gap(word: Word, spot: Bounds) -> float:
    return max(0.0, spot[0] - word.box.x1, word.box.x0 - spot[2])


def mark_words(words: Sequence[Word], struck: set[int], inked: set[int]) -> list[Word]:
    """Return the words with what their ink says against them."""
    made = []
    for index, word in enumerate(words):
        doubts = list(word.doubts)
        if index in struck:
            doubts.append(Doubt(code="text_struck_out", message=f"{word.text!r} is struck out"))
        if index in inked:
            doubts.append(
                Doubt(
                    code="ink_without_text",
                    message=f"a point or dash is drawn in or beside {word.text!r}, which the text does not have",
                )
            )
        made.append(replace(word, doubts=tuple(doubts)) if len(doubts) > len(word.doubts) else word)
    return made


def mark_overprints(words: Sequence[Word]) -> list[Word]:
    """Return the words, with a doubt on those of one direction that stand over one another."""
    order = sorted(range(len(words)), key=lambda index: (words[index].turn, words[index].box.top))
    hit: set[int] = set()
    for place, index in enumerate(order):
        word = words[index]
        for after in range(place + 1, len(order)):
            other_index = order[after]
            other = words[other_index]
            if other.turn != word.turn or other.box.top >= word.box.bottom:
                break
            if _overprint(word, other):
                hit.update((index, other_index))
    return [
        replace(
            word,
            doubts=(
                *word.doubts,
                Doubt(code="text_overprinted", message=f"other text stands over {word.text!r}: read the picture"),
            ),
        )
        if index in hit
        else word
        for index, word in enumerate(words)
    ]


def _overprint(word: Word, other: Word) -> bool:
    if word.box.x1 <= other.box.x0 or other.box.x1 <= word.box.x0:
        return False
    size = min(word.size, other.size)
    across = min(word.box.x1, other.box.x1) - max(word.box.x0, other.box.x0)
    down = min(word.box.bottom, other.box.bottom) - max(word.box.top, other.box.top)
    return across > 0.25 * size and down > 0.55 * size
