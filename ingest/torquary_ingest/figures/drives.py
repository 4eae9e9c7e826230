"""`read_drive`: screw drives as printed, in the vocabulary of the record."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from torquary_schema.glyphs import fold_glyphs
from torquary_schema.values import Drive

# Trade-mark names are accepted as printed, because sheets print them; they are never shown by us.
_NUMBER = r"\d+(?:[.,]\d+)?"
_SIZE = r"\s*(?:no\.?|nr\.?|n°|№|#|size|größe|gr\.?|taille|taglia|tamaño|maat|storlek|rozmiar|velikost)?\s*[-:]?\s*"
_BLADE = rf"({_NUMBER})\s*(?:mm)?\s*[x×*]\s*({_NUMBER})\s*(?:mm)?"
_THICKEST, _WIDEST = Decimal("2.5"), Decimal(20)
_INCH = r"(\d+[⁄/]\d+|\d+\s\d+[⁄/]\d+)\s*(?:\"|″|''|in\b\.?|inch\b)"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Form:
    kind: str
    pattern: re.Pattern[str]
    size: str


def _form(kind: str, pattern: str, size: str = "number") -> _Form:
    return _Form(kind=kind, pattern=re.compile(pattern, re.IGNORECASE), size=size)


_W = r"(?<![\w/])"
_BESIDE = r"(?:(?<![\w/])|(?<=[\dm\x00]/)|(?<=[\dm\x00] / ))"
"""Also right behind another drive: "0.8x4/PZ1", "PZ2/0.8x4"; a drive that was found stands as \\x00."""
_SLOT_WORDS = r"slotted|slot|schlitz|flat(?:[- ]?blade|[- ]?head)?|fente|plano|ranura(?:do)?|taglio|fenda|一字|マイナス"
_CROSS_H = r"ph|phillips|philips|phil\.?"
_CROSS = (
    r"cross(?:[- ]?(?:head(?:ed)?|recess(?:ed)?|slot(?:ted)?|point))?|kreuz(?:schlitz)?|(?:empreinte )?cruciforme|"
    r"kruiskop|(?:impronta )?a croce"
)
"""Words that stand before the letter of a recess of ISO 4757: "cross Z2"; a letter alone may be a marking."""
_BIT = r"bit|driver|screwdriver"
_TYPE = r"\s*[-:]?\s*(?:type|typ|tipo)?\s*"
_CROSS_Z = r"pzd|pz|pozidri?ve?|posidrive?|pozi"
_HEX_SOCKET = (
    r"innensechskant|inbus|allen|hex(?:agon)?(?:al)?[ -]?(?:socket|key|bit|recess)?|6-kant|sechskant|"
    r"internal hex|six pans creux|hexagonal interior|brugola|esagono incassato|六角"
)
_HEX_HEAD = r"hex(?:agon)?[ -]?(?:head|nut|bolt)|außensechskant|aussensechskant|wrench|spanner"
_LOBES = r"tx|t|torx|hexalobular|six[- ]?lobe"
_FORMS = (
    _form("combi", rf"{_W}(?:pz|ph)(\d)?\s*/\s*(?:sl|fl|s)\d*(?!\w)(?!{_SIZE}\d[.,\d]){_SIZE}(\d)?(?!\d)"),
    _form("combi", rf"{_W}(?:sl|fl|s)\s*/\s*(?:pz|ph)(\d)?(?!\w){_SIZE}(\d)?(?![\d.,]*\d)"),
    _form("combi", rf"(?:\+\s*/\s*[-−–]|±|plus[- /]*minus|combi(?:ned)?(?:\s+(?:slot|recess))?){_SIZE}(\d)?(?!\d)"),
    _form("cross_z", rf"{_W}(?:{_CROSS}|{_BIT}){_TYPE}z{_SIZE}(\d)(?!\d|[.,]\d)"),
    _form("cross_h", rf"{_W}(?:{_CROSS}){_TYPE}h{_SIZE}(\d)(?!\d|[.,]\d)"),
    _form("cross_z", rf"{_BESIDE}(?:{_CROSS_Z}){_SIZE}(\d)(?!\d|[.,]\d)"),
    _form("cross_h", rf"{_BESIDE}(?:{_CROSS_H}){_SIZE}(\d)(?!\d|[.,]\d)"),
    _form("cross_z", rf"#\s*(\d)\s*(?:{_CROSS_Z})(?!\w)"),
    _form("cross_h", rf"#\s*(\d)\s*(?:{_CROSS_H})(?!\w)"),
    _form("cross_z", rf"{_W}(?:pzd|pz|pozidri?ve?)(?!\w)", "none"),
    _form("cross_h", rf"{_W}(?:ph|phillips|philips)(?!\w)", "none"),
    _form("hexalobular", rf"{_W}(?:{_LOBES})[ -]?(?:no\.?\s*)?(6|8|10|15|20|25|27|30|40|45|50|55)(?!\d|[.,]\d)"),
    _form("square", rf"{_W}(?:sq|r|robertson|square(?: drive| socket)?){_SIZE}([0-4])(?!\d|[.,]\d)"),
    _form("slot", rf"{_BESIDE}(?:sl|fl|{_SLOT_WORDS})?\s*:?\s*{_BLADE}", "blade"),
    _form("slot", rf"{_INCH}\s*(?:{_SLOT_WORDS})", "inch"),
    _form("slot", rf"{_W}(?:{_SLOT_WORDS})\s*:?\s*{_INCH}", "inch"),
    _form("slot", rf"{_W}(?:{_SLOT_WORDS})\s*:?\s*({_NUMBER})\s*mm", "mm"),
    _form("slot", rf"({_NUMBER})\s*mm\s*(?:{_SLOT_WORDS})", "mm"),
    _form("hex_head", rf"{_W}(?:{_HEX_HEAD})\D{{0,12}}?({_NUMBER})\s*mm", "mm"),
    _form("hex_socket", rf"{_INCH}\s*(?:{_HEX_SOCKET})", "inch"),
    _form("hex_socket", rf"{_W}(?:{_HEX_SOCKET})\s*:?\s*{_INCH}", "inch"),
    _form("hex_socket", rf"({_NUMBER})\s*mm\s*(?:{_HEX_SOCKET})", "mm"),
    _form("hex_socket", rf"{_W}(?:{_HEX_SOCKET}|hex)\s*:?\s*(?:sw|af)?\s*({_NUMBER})\s*(?:mm)?", "mm"),
    _form("hex_socket", rf"{_W}(?:sw|af|s\.w\.|a/f)\s*:?\s*({_NUMBER})(?!\d|[.,]\d)\s*(?:mm)?", "mm"),
    _form("hex_socket", rf"({_NUMBER})\s*(?:mm)?\s*(?:a/f|af)(?!\w)", "mm"),
    _form("slot", rf"{_W}(?:sl|{_SLOT_WORDS})(?!\w)|{_BESIDE}sl\s*(?={_NUMBER}(?!\w))", "none"),
)  # fmt: skip
_SHANK = re.compile(rf"{_NUMBER}\s*[x×]\s*\d{{2,3}}\s*mm", re.IGNORECASE)
_CROSS_UNTOLD = re.compile(
    rf"[+＋]\s*(?:ドライバー?(?:ビット)?|driver|bit){_SIZE}(\d)|{_SIZE}(\d)\s*(?:十字|プラス)", re.IGNORECASE
)


def read_drive(text: str, *, heading: str = "") -> tuple[Drive, ...]:
    """Return the screw drives printed in the text; kinds are keys of the drive vocabulary.

    `heading` helps where the cell gives a bare size ("0.8x4" under "slot"). "PZ2 6 x 100 mm" is a cross
    recess with shank and length, so only the drive is returned. A cross recess whose type is not stated
    ("+ No.2") gives "cross" with its size. Nothing known: an empty tuple.
    """
    folded = fold_glyphs(text).text.replace("\u2009", " ")
    found = _find(folded)
    if not found and heading and re.search(r"\d", folded):
        found = _find(f"{fold_glyphs(heading).text} {folded}")
    return tuple(dict.fromkeys(drive for _, _, drive in found))


def drive_spans(text: str) -> tuple[tuple[int, int], ...]:
    """Return where a text names screw drives, as offsets; none in a text whose letters are folded to others."""
    folded = fold_glyphs(text).text
    return tuple((start, end) for start, end, _ in _find(folded)) if len(folded) == len(text) else ()


def _find(text: str) -> list[tuple[int, int, Drive]]:
    hits: list[tuple[int, int, Drive]] = []
    rest = text
    for form in _FORMS:
        for match in form.pattern.finditer(rest):
            if form.size == "blade" and not _is_blade(*match.groups()):
                continue
            drive = _make(form, match)
            hits.append((match.start(), match.end(), drive))
            rest = rest[: match.start()] + "\x00" * len(match[0]) + rest[match.end() :]
            if drive.kind.startswith(("cross", "combi")):
                rest = _SHANK.sub(lambda m: "\x00" * len(m[0]), rest)
    for match in _CROSS_UNTOLD.finditer(rest):
        hits.append((match.start(), match.end(), Drive(kind="cross", size=match[1] or match[2])))
    return sorted(hits, key=lambda hit: hit[0])


def _make(form: _Form, match: re.Match[str]) -> Drive:
    groups = [g for g in match.groups() if g]
    if form.size == "none" or not groups:
        return Drive(kind=form.kind)
    if form.size == "blade":
        return Drive(kind="slot", size=f"{_plain(groups[0])}x{_plain(groups[1])}")
    if form.size == "inch":
        return Drive(kind=form.kind, size=f"{groups[0].replace('⁄', '/')} in")
    if form.size == "mm":
        return Drive(kind=form.kind, size=f"{_plain(groups[0])} mm")
    return Drive(kind=form.kind, size=groups[0])


def _is_blade(thickness: str, width: str) -> bool:
    """Tell whether two sizes may be a blade's (ISO 2380: up to 2.5 x 16 mm); "1x95" counts conductors."""
    sizes = [Decimal(size.replace(",", ".")) for size in (thickness, width)]
    return min(sizes) <= _THICKEST and max(sizes) <= _WIDEST


def _plain(number: str) -> str:
    text = number.replace(",", ".")
    return text.rstrip("0").rstrip(".") if "." in text else text
