"""Ink of a cell that no character, rule or neighbour accounts for."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from torquary_ingest.document import Rule
from torquary_ingest.witness.blobs import Blob, label_blobs
from torquary_ingest.witness.claims import Claim
from torquary_ingest.witness.scene import InkAccount, Scene, grown
from torquary_ingest.witness.view import Glyph
from torquary_schema.values import Box

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_EDGE = 1.3
"""Points from a cell's edge inwards that may hold the cell's own frame."""

_SNAP = 1.4
"""Pixels by which a renderer may set a glyph beside its outline, hinting included."""

_APART = 1.0
"""Sizes of type between the text of a cell and a drawing that reaches into it, at least (own choice)."""

_SPECK_EM = 0.055
_SMEAR_EM2 = 0.012


def find_loose_ink(scene: Scene, claim: Claim, rules: tuple[Rule, ...], account: InkAccount) -> None:
    """Find ink that no character, rule or neighbour accounts for."""
    loose = scene.mask.copy()
    for glyph in scene.claimed:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box, _SNAP)
        loose[y0:y1, x0:x1] = False
    for word in scene.bare:
        # Where a field without an appearance sets its letters is known roughly; the recogniser reads as far.
        reach = 0.45 * word.size if word.turn == 0 else 0.0
        box = Box(x0=word.box.x0 - reach, x1=word.box.x1 + reach, top=word.box.top, bottom=word.box.bottom)
        x0, y0, x1, y1 = scene.picture.pixels(box, _SNAP)
        loose[y0:y1, x0:x1] = False
    inner = scene.picture.pixels(grown(claim.box, -_EDGE))
    clear_rules(scene, rules, loose)
    if not loose[inner[1] : inner[3], inner[0] : inner[2]].any():
        return
    labels, blobs = label_blobs(loose)
    speck = max(3.0, (_SPECK_EM * scene.em) ** 2)
    for blob in blobs:
        within = int((labels[inner[1] : inner[3], inner[0] : inner[2]] == blob.label).sum())
        if within < speck or within < 0.5 * blob.area or _is_rule(scene, blob) or _runs_out(scene, blob):
            continue
        owner = _owner(scene, blob)
        if owner is None:
            _name_loose(scene, blob, account)
        elif _continues(scene, owner):
            account.doubt("ink_without_text", f"the page shows {owner.char!r} beside the text, which leaves it out")


def find_joining_ink(
    scene: Scene, labels: NDArray[numpy.int32], blobs: tuple[Blob, ...], account: InkAccount
) -> dict[int, Glyph]:
    """Find marks that lie between characters or in a figure's corner, and ink that ties figures together.

    `labels` and `blobs` are the ink near the claimed characters. Returns which areas are claimed marks.
    """
    import numpy as np

    shares: dict[int, list[tuple[int, Glyph]]] = {blob.label: [] for blob in blobs}
    for glyph in scene.claimed:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box, 0.7)
        counts = np.bincount(labels[y0:y1, x0:x1].ravel(), minlength=len(blobs) + 1)
        for label in np.flatnonzero(counts[1:]) + 1:
            shares[int(label)].append((int(counts[label]), glyph))
    speck = max(3.0, (_SPECK_EM * scene.em) ** 2)
    marks = _claimed_marks(scene, blobs)
    for blob in blobs:
        mine = [share for share in shares[blob.label] if share[0] >= 3]
        largest = max(shares[blob.label], key=lambda share: share[0], default=None)
        inside = largest[0] if largest is not None else 0
        nearest = largest[1] if largest is not None else None
        if max(blob.wide, blob.high) <= 0.3 * scene.em and blob.area >= speck and blob.label not in marks:
            apart = inside > 0 and inside < 0.6 * blob.area
            if (apart and _owner(scene, blob) is None) or _stands_by_a_whole(scene, blob, nearest, blobs, shares):
                account.doubt("ink_without_text", "the page shows a dot beside a character of the text")
        ends = sorted(scene.picture.pixels(g.box, 0.7) for _, g in mine if not g.char.isalpha())
        account.joined = account.joined or any(b[0] - a[2] >= 1 for a, b in itertools.pairwise(ends))
    return marks


def _claimed_marks(scene: Scene, blobs: tuple[Blob, ...]) -> dict[int, Glyph]:
    """Return the claimed character that an area is by its place and size, though a slanting one's box holds it too."""
    found = {}
    for glyph in scene.claimed:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box)
        for blob in blobs:
            if (
                abs(blob.x0 + blob.x1 - x0 - x1) <= 2 * _SNAP
                and abs(blob.y0 + blob.y1 - y0 - y1) <= 2 * _SNAP
                and abs(blob.wide - (x1 - x0)) <= 2
                and abs(blob.high - (y1 - y0)) <= 2
            ):
                found[blob.label] = glyph
                break
    return found


def _stands_by_a_whole(
    scene: Scene, blob: Blob, glyph: Glyph | None, blobs: tuple[Blob, ...], shares: dict[int, list[tuple[int, Glyph]]]
) -> bool:
    """Tell whether a small area lies in the corner of a figure that is whole without it."""
    if glyph is None or not glyph.char.isdecimal() or _is_middle_of_zero(scene, blob, glyph):
        return False
    x0, y0, x1, y1 = scene.picture.pixels(glyph.box)
    for other in blobs:
        if (
            other is not blob
            and any(owner is glyph and share >= 0.6 * other.area for share, owner in shares[other.label])
            and other.high >= 0.85 * (y1 - y0)
            and other.wide >= 0.7 * (x1 - x0)
        ):
            return True
    return False


def _is_middle_of_zero(scene: Scene, blob: Blob, glyph: Glyph) -> bool:
    """Tell the dot or bar that many faces of one width set in the middle of a zero from a point beside it."""
    if glyph.char != "0" or glyph.turn is None:
        return False
    x0, y0, x1, y1 = scene.picture.pixels(glyph.box)
    off_x, off_y = abs(blob.x0 + blob.x1 - x0 - x1) / 2, abs(blob.y0 + blob.y1 - y0 - y1) / 2
    return off_x <= 0.1 * (x1 - x0) + 1 and off_y <= 0.1 * (y1 - y0) + 1


def clear_rules(
    scene: Scene, rules: tuple[Rule, ...], ink: NDArray[numpy.bool_], through: str = ""
) -> NDArray[numpy.bool_]:
    """Clear the page's known rules out of its ink, unless one runs through a claimed character not in `through`."""
    spared = [grown(glyph.box, -0.3) for glyph in scene.claimed if glyph.char not in through]
    for rule in rules:
        half = rule.thickness / 2 + 0.6
        across = (rule.at - half, rule.at + half)
        box = (
            Box(x0=rule.start - 1, x1=rule.end + 1, top=across[0], bottom=across[1])
            if rule.horizontal
            else Box(top=rule.start - 1, bottom=rule.end + 1, x0=across[0], x1=across[1])
        )
        x0, y0, x1, y1 = scene.picture.pixels(box)
        if x0 == x1 or y0 == y1 or any(_meets(box, one) for one in spared):
            continue
        ink[y0:y1, x0:x1] = False
    return ink


def _meets(one: Box, other: Box) -> bool:
    return one.x0 < other.x1 and other.x0 < one.x1 and one.top < other.bottom and other.top < one.bottom


def _is_rule(scene: Scene, blob: Blob) -> bool:
    """Tell a table line or underline: long, thin, and beside the lines of text rather than in them."""
    line = max(6.0, 0.25 * scene.em)
    high, wide = scene.mask.shape
    for glyph in scene.claimed:
        _, y0, _, y1 = scene.picture.pixels(glyph.box)
        if blob.high <= line and y0 + 1 < blob.y1 and blob.y0 < y1 - 1 and y1 - y0 > 0.3 * scene.em:
            return False
        if blob.wide <= line and blob.high < 1.3 * scene.em and y0 < blob.y1 and blob.y0 < y1:
            return False
    if blob.wide <= line or blob.high <= line:
        return max(blob.wide, blob.high) >= 1.5 * scene.em
    # A frame: it spans the cell and is nearly all ground.
    return blob.wide >= 0.9 * wide and blob.high >= 0.9 * high and blob.area <= 0.2 * blob.wide * blob.high


def _runs_out(scene: Scene, blob: Blob) -> bool:
    """Tell whether ink runs on beyond the cell and stands apart from its text: part of a drawing beside it."""
    high, wide = scene.mask.shape
    if not (blob.x0 <= 0 or blob.x1 >= wide or blob.y0 <= 0 or blob.y1 >= high):
        return False
    boxes = [scene.picture.pixels(glyph.box) for glyph in scene.claimed]
    return all(blob.x0 - x1 >= _APART * scene.em or x0 - blob.x1 >= _APART * scene.em for x0, _, x1, _ in boxes)


def _owner(scene: Scene, blob: Blob) -> Glyph | None:
    """Return the live character outside the claim that this ink belongs to."""
    for glyph in scene.others:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box, 1.5)
        if min(blob.x1, x1) - max(blob.x0, x0) >= 0.6 * blob.wide and (
            min(blob.y1, y1) - max(blob.y0, y0) >= 0.6 * blob.high
        ):
            return glyph
    return None


def _continues(scene: Scene, stray: Glyph) -> bool:
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


def _name_loose(scene: Scene, blob: Blob, account: InkAccount) -> None:
    """Say what the loose ink looks like; a little of it at a character's edge only makes the cell unsure."""
    near = (blob.x0 - 1, blob.y0 - 1, blob.x1 + 1, blob.y1 + 1)
    touches = False
    for glyph in scene.claimed:
        x0, y0, x1, y1 = scene.picture.pixels(glyph.box, _SNAP)
        touches = touches or (x0 <= near[2] and near[0] <= x1 and y0 <= near[3] and near[1] <= y1)
    if touches and min(blob.wide, blob.high) == 1:
        return  # a glyph set on the next pixel
    if touches and blob.area < _SMEAR_EM2 * scene.em**2 + 3:
        account.unsure.append("ink runs over the edge of a character")
        return
    kind = "a dot" if max(blob.wide, blob.high) <= 0.3 * scene.em else "a dash or line"
    if min(blob.wide, blob.high) > 0.3 * scene.em:
        kind = "a mark"
    account.doubt("ink_without_text", f"the page shows {kind} in the cell that is no character of its text")
