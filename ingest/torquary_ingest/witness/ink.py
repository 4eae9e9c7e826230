"""Ink accounts for text and text for ink, within one cell, without any recogniser."""

from __future__ import annotations

import itertools
import unicodedata
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from torquary_ingest.document import Doubt, Rule, Word
from torquary_ingest.witness.blobs import Blob, label_blobs
from torquary_ingest.witness.claims import Claim
from torquary_ingest.witness.shapes import Shape, make_shape
from torquary_ingest.witness.view import Glyph, PageView, Picture
from torquary_schema.values import Box

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

INK = 0.32
"""Share of the text's contrast from which a pixel counts as ink: a hairline dash at 5 pt just reaches it."""

_FAINTEST = 24
_MARGIN = 2.0
_EDGE = 1.3
_SPECK_EM = 0.055
_SNAP = 1.4
"""Pixels by which a renderer may set a glyph beside its outline, hinting included."""
_SMEAR_EM2 = 0.012


@dataclass(slots=True, kw_only=True)
class InkAccount:
    """What the ink of one cell says. `shapes` pairs every claimed character with its picture.

    `unsure` names what the ink alone cannot settle and a recogniser must; `doubts` are certain. `joined`:
    ink runs from one figure to the next, as a slanting stroke through them does; a recogniser may overlook
    that, so its agreement does not suffice.
    """

    shapes: list[tuple[Glyph, Shape]] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    unsure: list[str] = field(default_factory=list)
    joined: bool = False

    def doubt(self, code: str, message: str) -> None:
        """Add a doubt, once."""
        if all(code != known.code for known in self.doubts):
            self.doubts.append(Doubt(code=code, message=message))


@dataclass(frozen=True, slots=True)
class Inked:
    """A picture as darkness: 0 is the ground, 1 the text's own colour (text may be lighter than its ground)."""

    dark: NDArray[numpy.float32]
    contrast: float


def separate_ink(picture: Picture, boxes: list[Box]) -> Inked:
    """Tell text from ground: the ground is the commonest grey round the boxes, the text the far end."""
    import numpy as np

    grey = picture.grey.astype(np.int16)
    near = picture.pixels(_around(boxes), 4)
    patch = grey[near[1] : near[3], near[0] : near[2]]
    if not patch.size:
        return Inked(np.zeros(grey.shape, np.float32), 0.0)
    ground = int(np.bincount(patch.ravel() >> 2).argmax()) * 4 + 2
    ends = [grey[y0:y1, x0:x1] for x0, y0, x1, y1 in (picture.pixels(box, 1) for box in boxes)]
    darkest = max((ground - int(end.min()) for end in ends if end.size), default=0)
    lightest = max((int(end.max()) - ground for end in ends if end.size), default=0)
    contrast, sign = (darkest, 1) if darkest >= lightest else (lightest, -1)
    dark = ((ground - grey) * sign / max(contrast, 1)).clip(0, 1).astype(np.float32)
    return Inked(dark, float(contrast))


def read_shape(picture: Picture, glyph: Glyph) -> Shape | None:
    """Read the shape of one glyph that stands alone in its picture."""
    ink = separate_ink(picture, [glyph.box])
    labels, blobs = label_blobs(ink.dark >= INK)
    return _shape_of(picture, ink.dark, labels, blobs, glyph)


def account_for_ink(view: PageView, claim: Claim, rules: tuple[Rule, ...] = ()) -> InkAccount:
    """Compare a cell's ink with its claimed characters. `rules` are the page's known lines."""
    account = InkAccount()
    area = _grown(claim.box.union(_around([word.box for word in claim.words])), _MARGIN)
    near = view.glyphs(area)
    claimed = _claimed(near, claim.words, account)
    if not claimed:
        account.unsure.append("no live character stands in the cell's words")
        return account
    picture = view.picture(area)
    ink = separate_ink(picture, [glyph.box for glyph in claimed])
    if ink.contrast < _FAINTEST:
        account.doubt("text_without_ink", "the text of the cell has no ink on the page")
        return account
    mask = ink.dark >= INK
    em = max(glyph.em for glyph in claimed) * picture.scale_y
    scene = _Scene(picture, mask, claimed, [glyph for glyph in near if glyph not in claimed], em)
    _find_missing_ink(scene, ink, account)
    _find_strikes(scene, claim, account)
    _find_loose_ink(scene, claim, rules, account)
    labels, blobs = label_blobs(mask)
    _find_joining_ink(scene, labels, blobs, account)
    for glyph in claimed:
        shape = _shape_of(picture, ink.dark, labels, blobs, glyph)
        if shape is not None:
            account.shapes.append((glyph, shape))
    return account


@dataclass(frozen=True, slots=True)
class _Scene:
    picture: Picture
    mask: NDArray[numpy.bool_]
    claimed: list[Glyph]
    others: list[Glyph]
    em: float


def _around(boxes: list[Box]) -> Box:
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole.union(box)
    return whole


def _grown(box: Box, by: float) -> Box:
    return Box(x0=box.x0 - by, top=box.top - by, x1=box.x1 + by, bottom=box.bottom + by)


def fold_text(text: str) -> str:
    """Fold text to what leaves ink: compatibility forms, without blanks and soft hyphens."""
    return "".join(c for c in unicodedata.normalize("NFKC", text) if not c.isspace() and c not in "\u00ad\u200b")


def _claimed(near: tuple[Glyph, ...], words: tuple[Word, ...], account: InkAccount) -> list[Glyph]:
    """Pick the characters that the words are made of, note marks included."""
    chosen: list[Glyph] = []
    for word in words:
        marks = [_grown(mark.box, 0.4) for mark in word.marks if mark.box is not None]
        raised = [glyph for glyph in near if any(box.holds(glyph.box.middle) for box in marks)]
        area = _grown(word.box, 0.6)
        inside = [glyph for glyph in near if area.holds(glyph.box.middle) and glyph not in raised]
        letters = _letters_of(inside, word)
        if letters is None:
            found = "".join(glyph.char for glyph in inside)
            account.unsure.append(f"the characters in place of {word.text!r} are {found!r}")
        chosen.extend(glyph for glyph in (letters or inside) + raised if glyph not in chosen)
    return chosen


def _letters_of(inside: list[Glyph], word: Word) -> list[Glyph] | None:
    """Return the characters that spell the word: all in its place, or a run of them set one after another.

    Other text may run through the same place (a covered label, a hidden layer); None: nothing spells it.
    """
    wanted = fold_text(word.text)
    if sorted(fold_text("".join(glyph.char for glyph in inside))) == sorted(wanted):
        return inside
    fits = [g for g in inside if abs(g.em - word.size) <= 0.1 * word.size]
    for pool in (inside, fits):
        for start in range(len(pool)):
            for end in range(start + 1, min(len(pool), start + len(wanted)) + 1):
                if fold_text("".join(glyph.char for glyph in pool[start:end])) == wanted:
                    return pool[start:end]
    return None


def _find_missing_ink(scene: _Scene, ink: Inked, account: InkAccount) -> None:
    for glyph in scene.claimed:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box, 0.5)
        patch = ink.dark[y0:y1, x0:x1]
        if not patch.size or float(patch.max()) * ink.contrast < _FAINTEST or float(patch.max()) < 0.18:
            account.doubt("text_without_ink", f"the character {glyph.char!r} has no ink on the page")
        elif not glyph.drawn:
            account.unsure.append(f"{glyph.char!r} belongs to an invisible layer")
        elif patch.shape[0] >= 8:
            rows = (patch >= INK / 2).any(axis=1)
            if rows.mean() < 0.6 and glyph.char.isdigit():
                account.doubt("text_without_ink", f"part of the character {glyph.char!r} has no ink on the page")


def _find_strikes(scene: _Scene, claim: Claim, account: InkAccount) -> None:
    """Find a line through a word: one row of ink from the first character to the last."""
    for word in claim.words:
        inside = [g for g in scene.claimed if _grown(word.box, 0.6).holds(g.box.middle) and g.char.isalnum()]
        if not inside or word.turn % 180:
            continue
        x0, y0, x1, y1 = scene.picture.pixels(_around([g.box for g in inside]))
        beyond = 0 if len(inside) > 1 else max(2, round(0.12 * scene.em))
        x0, x1 = x0 - beyond, x1 + beyond
        low, high = y0 + (y1 - y0) // 6, y1 - (y1 - y0) // 6
        rows = scene.mask[low:high, max(x0, 0) : x1]
        if rows.size and bool((rows.mean(axis=1) >= 0.97).any()):
            account.doubt("text_struck_out", f"a line runs through {word.text!r}")


def _find_loose_ink(scene: _Scene, claim: Claim, rules: tuple[Rule, ...], account: InkAccount) -> None:
    """Find ink that no character, rule or neighbour accounts for."""
    loose = scene.mask.copy()
    for glyph in scene.claimed:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box, _SNAP)
        loose[y0:y1, x0:x1] = False
    inner = scene.picture.pixels(_grown(claim.box, -_EDGE))
    outside = loose.copy()
    outside[inner[1] : inner[3], inner[0] : inner[2]] = False
    _clear_rules(scene, rules, loose)
    labels, blobs = label_blobs(loose)
    speck = max(3.0, (_SPECK_EM * scene.em) ** 2)
    for blob in blobs:
        place = labels[blob.y0 : blob.y1, blob.x0 : blob.x1] == blob.label
        window = place[max(inner[1] - blob.y0, 0) : max(inner[3] - blob.y0, 0),
                       max(inner[0] - blob.x0, 0) : max(inner[2] - blob.x0, 0)]
        within = int(window.sum())
        if within < speck or within < 0.5 * blob.area or _is_rule(scene, blob):
            continue
        owner = _owner(scene, blob)
        if owner is None:
            _name_loose(scene, blob, account)
        elif _continues(scene, owner):
            account.doubt("ink_without_text", f"the page shows {owner.char!r} beside the text, which leaves it out")


def _find_joining_ink(
    scene: _Scene, labels: NDArray[numpy.int32], blobs: tuple[Blob, ...], account: InkAccount
) -> None:
    """Find ink that lies between figures, or ties one to the next."""
    import numpy as np

    shares: dict[int, list[tuple[int, int, int]]] = {}
    for glyph in scene.claimed:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box, 0.7)
        counts = np.bincount(labels[y0:y1, x0:x1].ravel(), minlength=len(blobs) + 1)
        for label in np.flatnonzero(counts[1:]) + 1:
            shares.setdefault(int(label), []).append((int(counts[label]), x0, x1))
    speck = max(3.0, (_SPECK_EM * scene.em) ** 2)
    for blob in blobs:
        mine = [share for share in shares.get(blob.label, []) if share[0] >= 3]
        if len(mine) < 2:
            continue
        small = max(blob.wide, blob.high) <= 0.3 * scene.em
        if small and blob.area >= speck and max(share[0] for share in mine) < 0.6 * blob.area:
            _name_loose(scene, blob, account, apart=True)
        ends = sorted((x0, x1) for _, x0, x1 in mine)
        account.joined = account.joined or any(b[0] - a[1] >= 1 for a, b in itertools.pairwise(ends))


def _clear_rules(scene: _Scene, rules: tuple[Rule, ...], loose: NDArray[numpy.bool_]) -> None:
    """Clear the page's known rules, unless one runs through a claimed character."""
    for rule in rules:
        half = rule.thickness / 2 + 0.6
        across = (rule.at - half, rule.at + half)
        box = (
            Box(x0=rule.start - 1, x1=rule.end + 1, top=across[0], bottom=across[1])
            if rule.horizontal
            else Box(top=rule.start - 1, bottom=rule.end + 1, x0=across[0], x1=across[1])
        )
        if any(_meets(box, _grown(glyph.box, -0.3)) for glyph in scene.claimed):
            continue
        x0, y0, x1, y1 = scene.picture.pixels(box)
        loose[y0:y1, x0:x1] = False


def _meets(one: Box, other: Box) -> bool:
    return one.x0 < other.x1 and other.x0 < one.x1 and one.top < other.bottom and other.top < one.bottom


def _is_rule(scene: _Scene, blob: Blob) -> bool:
    """Tell a table line or underline: long, thin, and beside the lines of text rather than in them."""
    line = max(6.0, 0.25 * scene.em)
    high, wide = scene.mask.shape
    for glyph in scene.claimed:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box)
        if blob.high <= line and y0 + 1 < blob.y1 and blob.y0 < y1 - 1 and y1 - y0 > 0.3 * scene.em:
            return False
        if blob.wide <= line and blob.high < 1.3 * scene.em and y0 < blob.y1 and blob.y0 < y1:
            return False
    if blob.wide <= line or blob.high <= line:
        return max(blob.wide, blob.high) >= 1.5 * scene.em
    # A frame: it spans the cell and is nearly all ground.
    return blob.wide >= 0.9 * wide and blob.high >= 0.9 * high and blob.area <= 0.2 * blob.wide * blob.high


def _owner(scene: _Scene, blob: Blob) -> Glyph | None:
    """Return the live character outside the claim that this ink belongs to."""
    for glyph in scene.others:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box, 1.5)
        if min(blob.x1, x1) - max(blob.x0, x0) >= 0.6 * blob.wide and (
            min(blob.y1, y1) - max(blob.y0, y0) >= 0.6 * blob.high
        ):
            return glyph
    return None


def _continues(scene: _Scene, stray: Glyph) -> bool:
    """Tell whether an unclaimed character is set as one of the claim's own line, right beside it."""
    for glyph in scene.claimed:
        gap = max(stray.box.x0 - glyph.box.x1, glyph.box.x0 - stray.box.x1)
        if (
            stray.turn == glyph.turn == 0
            and abs(stray.em - glyph.em) <= 0.1 * glyph.em
            and abs(stray.origin[1] - glyph.origin[1]) <= 0.05 * glyph.em
            and gap <= 0.35 * glyph.em
        ):
            return True
    return False


def _name_loose(scene: _Scene, blob: Blob, account: InkAccount, *, apart: bool = False) -> None:
    grown = (blob.x0 - 1, blob.y0 - 1, blob.x1 + 1, blob.y1 + 1)
    touches = False
    for glyph in [] if apart else scene.claimed:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box, _SNAP)
        touches = touches or (x0 <= grown[2] and grown[0] <= x1 and y0 <= grown[3] and grown[1] <= y1)
    if touches and min(blob.wide, blob.high) == 1:
        return  # a glyph set on the next pixel
    if touches and blob.area < _SMEAR_EM2 * scene.em**2 + 3:
        account.unsure.append("ink runs over the edge of a character")
        return
    kind = "a dot" if max(blob.wide, blob.high) <= 0.3 * scene.em else "a dash or line"
    if min(blob.wide, blob.high) > 0.3 * scene.em:
        kind = "a mark"
    account.doubt("ink_without_text", f"the page shows {kind} in the cell that is no character of its text")


def _shape_of(
    picture: Picture, dark: NDArray[numpy.float32], labels: NDArray[numpy.int32], blobs: tuple[Blob, ...], glyph: Glyph
) -> Shape | None:
    """Cut one glyph out of its neighbours' ink, turn it upright and measure it."""
    import numpy as np

    if glyph.turn is None:
        return None
    x0, y0, x1, y1 = picture.pixels(glyph.box, 1.0)
    if x1 <= x0 or y1 <= y0:
        return None
    inside = labels[y0:y1, x0:x1]
    body = dark[y0:y1, x0:x1].copy()
    counts = np.bincount(inside.ravel(), minlength=len(blobs) + 1)
    own = [blob.label for blob in blobs if counts[blob.label] >= 0.5 * blob.area and counts[blob.label]]
    foreign = (inside > 0) & ~np.isin(inside, own)
    if own and foreign.any():
        body[foreign] = 0
    body = np.rot90(body, glyph.turn // 90)
    rises = {0: y0, 90: x1, 180: y1, 270: x0}[glyph.turn]
    pen_x = (glyph.origin[0] - picture.left) * picture.scale_x
    pen_y = (glyph.origin[1] - picture.top) * picture.scale_y
    baseline = abs((pen_x if glyph.turn in (90, 270) else pen_y) - rises)
    pieces = sum(1 for blob in blobs if blob.label in own and blob.area >= 2)
    return make_shape(body, em=glyph.em * picture.scale_y, baseline=baseline, pieces=max(pieces, 1))
