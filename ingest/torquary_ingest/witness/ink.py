"""Ink accounts for text and text for ink, within one cell, without any recogniser."""

from __future__ import annotations

import unicodedata
from dataclasses import replace
from typing import TYPE_CHECKING

from torquary_ingest.document import Rule, Word
from torquary_ingest.witness.blobs import Blob, label_blobs
from torquary_ingest.witness.claims import Claim
from torquary_ingest.witness.loose import clear_rules, find_joining_ink, find_loose_ink
from torquary_ingest.witness.scene import (
    INK,
    InkAccount,
    Inked,
    Scene,
    grown,
    letters_box,
    separate_ink,
    shape_of,
)
from torquary_ingest.witness.view import Glyph, PageView, Picture
from torquary_schema.values import Box

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_FAINTEST = 24
_FAINT = 0.18
_BARRED = "4AEFHeft"
"""Characters with a bar of their own, which may meet the next one's in a tight face."""

_BRACKETS = "()[]"

_MARGIN = 2.0

_WIDEST = 0.2
"""Part of the font size up to which ink beyond the outlines is a letter's own: beyond it, anything may hide there."""

_HEAVY = 0.3
"""Points of ink beyond a glyph's outline from which its shape is another: more than a renderer's pixel."""


def account_for_ink(view: PageView, claim: Claim, rules: tuple[Rule, ...] = ()) -> InkAccount:
    """Compare a cell's ink with its claimed characters. `rules` are the page's known lines.

    What looks wrong is looked at once more, twice as large: bold figures of 5 pt run into one another, a
    stroke of a thin face falls between two pixels, and neither is so on paper.
    """
    account = _account(view, claim, rules)
    return _account(view, claim, rules, finer=2) if account.doubts or account.joined else account


def _account(view: PageView, claim: Claim, rules: tuple[Rule, ...], finer: int = 1) -> InkAccount:
    account = InkAccount()
    area = grown(claim.box.union(Box.around([word.box for word in claim.words])), _MARGIN)
    near = view.glyphs(area)
    claimed, bare = _claimed(near, claim.words, account)
    boxes = [glyph.box for glyph in claimed.values()] + [letters_box(word) for word in bare]
    if not boxes:
        return account
    picture = view.picture(area, finer)
    ink = separate_ink(picture, boxes, heavy=any(map(_is_heavy, claim.words)))
    if ink.contrast < _FAINTEST:
        account.doubt("text_without_ink", "the text of the cell has no ink on the page")
        return account
    _take_bars(picture, ink, claim, account)
    mask = ink.dark >= INK
    em = max([glyph.em for glyph in claimed] + [word.size for word in bare]) * picture.scale_y
    others = [glyph for glyph in near if glyph not in claimed]
    scene = Scene(picture, mask, list(claimed.values()), others, em, tuple(bare))
    _find_missing_ink(scene, ink, account)
    _find_strikes(scene, claim, account)
    find_loose_ink(scene, claim, rules, account)
    if not claimed:
        return account
    labels, blobs = _near_blobs(scene, rules)
    marks = find_joining_ink(scene, labels, blobs, account)
    for glyph in scene.claimed:
        shape = shape_of(picture, ink.dark, labels, blobs, glyph, marks)
        if shape is None:
            account.unsure.append(f"the shape of {glyph.char!r} cannot be told")
        else:
            account.shapes.append((glyph, shape))
    return account


def _take_bars(picture: Picture, ink: Inked, claim: Claim, account: InkAccount) -> None:
    """Take the bars of stacked fractions out of the ink, as the "/" of the text; one that does not show is missing."""
    for word in claim.words:
        for bar in word.bars:
            x0, y0, x1, y1 = picture.pixels(bar, 1)
            stroke = ink.dark[y0:y1, x0:x1]
            if not stroke.size or float(stroke.max(axis=0).mean()) < INK:
                account.doubt("text_without_ink", f"the bar of the fraction in {word.text!r} has no ink on the page")
            stroke[...] = 0


def _near_blobs(scene: Scene, rules: tuple[Rule, ...]) -> tuple[NDArray[numpy.int32], tuple[Blob, ...]]:
    """Label the ink near the claimed characters alone: a cell's frame is no part of a glyph.

    Brackets often reach down to the rule beneath, which ties them together and nothing else.
    """
    import numpy as np

    mask = clear_rules(scene, rules, scene.mask.copy(), through=_BRACKETS)
    x0, y0, x1, y1 = scene.picture.pixels(Box.around([glyph.box for glyph in scene.claimed]), 4)
    near, blobs = label_blobs(mask[y0:y1, x0:x1])
    labels = np.zeros(scene.mask.shape, np.int32)
    labels[y0:y1, x0:x1] = near
    return labels, tuple(replace(b, x0=b.x0 + x0, x1=b.x1 + x0, y0=b.y0 + y0, y1=b.y1 + y0) for b in blobs)


def fold_text(text: str) -> str:
    """Fold text to what leaves ink: compatibility forms, without blanks and soft hyphens."""
    whole = unicodedata.normalize("NFKC", text).replace("\u2044", "/")
    return "".join(c for c in whole if not c.isspace() and c not in "\u00ad\u200b")


def _claimed(
    near: tuple[Glyph, ...], words: tuple[Word, ...], account: InkAccount
) -> tuple[dict[Glyph, Glyph], list[Word]]:
    """Pick the characters that the words are made of, note marks included, each with itself as wide as its ink.

    The second value are the words that no live character spells, as those in the appearance of a form field:
    their ink is theirs, and a recogniser has to read it.
    """
    chosen: dict[Glyph, Glyph] = {}
    bare: list[Word] = []
    for word in words:
        marks = [grown(mark.box, 0.4) for mark in word.marks if mark.box is not None]
        raised = [glyph for glyph in near if any(box.holds(glyph.box.middle) for box in marks)]
        area = grown(word.box, 0.6)
        inside = [glyph for glyph in near if area.holds(glyph.box.middle) and glyph not in raised]
        letters = _letters_of(inside, word)
        if letters is None:
            found = "".join(glyph.char for glyph in inside)
            account.unsure.append(f"the characters in place of {word.text!r} are {found!r}")
            bare.append(word)
        elif _is_heavy(word):
            account.unsure.append(f"{word.text!r} is drawn again beside itself or stroked")
        for glyph in (letters or []) + raised:
            chosen.setdefault(glyph, _inked(glyph, word))
    return chosen, bare


def _inked(glyph: Glyph, word: Word) -> Glyph:
    """Return the glyph with a box that holds all of its ink, where it is drawn again beside itself or stroked."""
    if not any(word.spread):
        return glyph
    most = _WIDEST * word.size
    left, up, right, down = (min(max(reach, -most), most) for reach in word.spread)
    box = glyph.box
    return replace(glyph, box=Box(x0=box.x0 + left, top=box.top + up, x1=box.x1 + right, bottom=box.bottom + down))


def _is_heavy(word: Word) -> bool:
    return max(map(abs, word.spread)) > _HEAVY


def _letters_of(inside: list[Glyph], word: Word) -> list[Glyph] | None:
    """Return the characters that spell the word: all in its place, a run of them, or some of them from left to right.

    Other text may run through the same place (a covered label, a hidden layer); None: nothing spells it.
    """
    wanted = fold_text(word.text).replace("/", "", len(word.bars))
    if sorted(fold_text("".join(glyph.char for glyph in inside))) == sorted(wanted):
        return inside
    fits = [g for g in inside if abs(g.em - word.size) <= 0.1 * word.size]
    for pool in (inside, fits):
        for start in range(len(pool)):
            for end in range(start + 1, min(len(pool), start + len(wanted)) + 1):
                if fold_text("".join(glyph.char for glyph in pool[start:end])) == wanted:
                    return pool[start:end]
    return _across(inside, wanted) if word.turn == 0 else None


def _across(inside: list[Glyph], wanted: str) -> list[Glyph] | None:
    """Pick the characters that spell a word from left to right over other text in the same place.

    pdfium gives a character once that two texts set in one spot, so that neither text stands there as a run.
    """
    picked: list[Glyph] = []
    for glyph in sorted(inside, key=lambda glyph: glyph.box.x0):
        rest = wanted[len(fold_text("".join(g.char for g in picked))) :]
        if rest and rest.startswith(fold_text(glyph.char)):
            picked.append(glyph)
    return picked if picked and fold_text("".join(glyph.char for glyph in picked)) == wanted else None


def _find_missing_ink(scene: Scene, ink: Inked, account: InkAccount) -> None:
    """Find characters, or upper and lower parts of figures, that leave no ink."""
    for glyph in scene.claimed:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box, 0.5)
        patch = ink.dark[y0:y1, x0:x1]
        # A stroke thinner than a pixel is only as dark as the part that it covers.
        thin = min(1.0, glyph.box.height * scene.picture.scale_y, glyph.box.width * scene.picture.scale_x)
        darkest = float(patch.max(initial=0.0))
        if darkest * ink.contrast < _FAINTEST * thin or darkest < _FAINT * thin:
            account.doubt("text_without_ink", f"the character {glyph.char!r} has no ink on the page")
        elif not glyph.drawn:
            account.unsure.append(f"{glyph.char!r} belongs to an invisible layer")
        elif patch.shape[0] >= 8 and glyph.char.isdigit():
            rows = (patch >= INK / 2).any(axis=1)
            if rows.mean() < 0.6:
                account.doubt("text_without_ink", f"part of the character {glyph.char!r} has no ink on the page")


def _find_strikes(scene: Scene, claim: Claim, account: InkAccount) -> None:
    """Find a line through a word: one row of ink from the first character to the last."""
    for word in claim.words:
        inside = [g for g in scene.claimed if grown(word.box, 0.6).holds(g.box.middle) and g.char.isalnum()]
        letters = [letter for letter in word.text if letter.isalnum()]
        bare = word in scene.bare
        if not (inside or (bare and letters)) or word.turn % 180 or all(letter in _BARRED for letter in letters):
            continue
        x0, y0, x1, y1 = scene.picture.pixels(letters_box(word) if bare else Box.around([g.box for g in inside]))
        beyond = 0 if len(inside) > 1 and not bare else max(2, round(0.12 * scene.em))
        x0, x1 = x0 - beyond, x1 + beyond
        # Stroked feet ("2.22") run into one another, at twice the stroke's reach above the line.
        edge = (y1 - y0) // 6 + round(2 * max(map(abs, word.spread)) * scene.picture.scale_y)
        low, high = y0 + edge, y1 - edge
        rows = scene.mask[low:high, max(x0, 0) : x1]
        if rows.size and bool((rows.mean(axis=1) >= 0.97).any()):
            account.doubt("text_struck_out", f"a line runs through {word.text!r}")
