"""Which elements of a page do not show, or are struck out: by attribute, by inline style, by its style sheets.

Style sheets in files of their own are not read. Rules for print or for other widths do not count.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast

from cssselect import HTMLTranslator, SelectorError, parse
from lxml import etree

from torquary_ingest.errors import SheetRefused

_MOST_STYLE = 2 * 1024 * 1024
_MOST_TRIALS = 10_000_000
_NAME = re.compile(r"(?<=[.#])[A-Za-z_][\w-]*(?![\w\\-])")
_NAMES = (
    "display visibility opacity text-decoration text-decoration-line font-size color clip clip-path text-indent "
    "left top right margin-left margin-top transform overflow height max-height width max-width"
)
_PROPERTIES = frozenset(_NAMES.split())
_ZERO = re.compile(r"0*\.?0+(?:px|pt|em|rem|%)?\Z")
_FAR = re.compile(r"-\d{3,}(?:\.\d+)?(?:px|em|rem|%|pt|vw|vh)|-9{3,}")
_TELLING = re.compile(
    r"none|hidden|collapse|transparent|line-through|clip|rect|inset|circle|scale\(0|-\d{3}|\A0*\.?0+(?![\d.])|\A1px"
)
_CUT = re.compile(r"rect\(\s*(?:0(?:px)?|1px)[\s,]+(?:0(?:px)?|1px)|inset\((?:50|100)%|circle\(0")
_STRUCK_TAGS = frozenset({"s", "del", "strike"})
_UNSEEN_NAMES = (
    "script style template noscript head title meta link datalist select textarea object iframe audio video canvas "
    "rt rp nav"
)
_UNSEEN_TAGS = frozenset(_UNSEEN_NAMES.split())

Declarations = dict[str, str]


@dataclass(frozen=True, slots=True)
class Looks:
    """What the style sheets of a page say about its elements."""

    by_element: dict[etree._Element, Declarations]

    def hides(self, element: etree._Element) -> bool:
        """Tell whether the element and all in it does not show."""
        if not isinstance(element.tag, str) or element.tag in _UNSEEN_TAGS:
            return True
        told = self._declared(element)
        if element.get("hidden") is not None and "display" not in told:
            return True
        return (
            told.get("display") == "none"
            or told.get("visibility") in ("hidden", "collapse")
            or told.get("color") == "transparent"
            or any(_ZERO.match(told.get(name, "")) for name in ("opacity", "font-size"))
            or _is_out_of_sight(told)
        )

    def strikes(self, element: etree._Element) -> bool:
        """Tell whether a line runs through the element's text."""
        told = self._declared(element)
        line = told.get("text-decoration-line") or told.get("text-decoration")
        if line is not None:
            return "line-through" in line
        return element.tag in _STRUCK_TAGS

    def _declared(self, element: etree._Element) -> Declarations:
        inline = element.get("style")
        sheet = self.by_element.get(element, {})
        return {**sheet, **_read_declarations(inline)} if inline else sheet


def _is_out_of_sight(told: Declarations) -> bool:
    """Tell whether an element is cut to nothing or moved off the page, as text for other readers is."""
    if any(
        _FAR.match(told.get(name, "")) for name in ("text-indent", "left", "top", "right", "margin-left", "margin-top")
    ):
        return True
    if _CUT.match(told.get("clip", "")) or _CUT.match(told.get("clip-path", "")) or told.get("transform") == "scale(0)":
        return True
    sizes = (told.get(name, "") for name in ("height", "max-height", "width", "max-width"))
    return told.get("overflow") in ("hidden", "clip") and any(_ZERO.match(size) or size == "1px" for size in sizes)


def read_looks(root: etree._Element) -> Looks:
    """Return what the page's own style sheets say, the stronger and later rule winning.

    Raises `SheetRefused` (sheet_too_large) when there are so many rules that trying them takes too long.
    """
    text = "\n".join(style.text or "" for style in root.iter("style"))
    too_many = SheetRefused(
        "sheet_too_large", "the page has too many style rules to tell what shows: save its tables alone"
    )
    if len(text) > _MOST_STYLE:
        raise too_many
    names, elements = _names_used(root)
    trials = 0
    found: dict[etree._Element, dict[str, tuple[tuple[int, int, int, int], str]]] = {}
    translator = HTMLTranslator()
    for order, (selector, told) in enumerate(_telling_rules(text)):
        paths = [] if _names_unused(selector, names) else _paths(translator, selector)
        trials += len(paths) * elements
        if trials > _MOST_TRIALS:
            raise too_many
        for strength, path in paths:
            for element in cast(list[etree._Element], root.xpath(path)):
                mine = found.setdefault(element, {})
                for name, value in told.items():
                    weight = (*strength, order)
                    if name not in mine or mine[name][0] <= weight:
                        mine[name] = (weight, value)
    return Looks({element: {name: value for name, (_, value) in told.items()} for element, told in found.items()})


def _names_used(root: etree._Element) -> tuple[set[str], int]:
    """Return the classes and ids that the page gives its elements, and the number of elements."""
    names: set[str] = set()
    elements = 0
    for element in root.iter():
        elements += 1
        names.update((element.get("class") or "").split())
        if element.get("id"):
            names.add(str(element.get("id")))
    return names, elements


def _names_unused(selector: str, names: set[str]) -> bool:
    """Tell whether a single selector asks for a class or id that no element has: most rules of a site do."""
    return "," not in selector and "(" not in selector and any(name not in names for name in _NAME.findall(selector))


def _paths(translator: HTMLTranslator, selector: str) -> list[tuple[tuple[int, int, int], str]]:
    """Return strength and path of each selector of a rule; none where it is not understood."""
    try:
        return [
            (one.specificity(), translator.selector_to_xpath(one)) for one in parse(selector) if not one.pseudo_element
        ]
    except SelectorError:
        return []


def _without_comments(text: str) -> str:
    """Return the text without comments; one that is never closed reaches to the end."""
    kept: list[str] = []
    at = 0
    while True:
        opening = text.find("/*", at)
        if opening < 0:
            return " ".join([*kept, text[at:]])
        kept.append(text[at:opening])
        closing = text.find("*/", opening + 2)
        if closing < 0:
            return " ".join(kept)
        at = closing + 2


def _telling_rules(text: str) -> Iterator[tuple[str, Declarations]]:
    """Yield the rules cut down to properties that some rule hides or strikes with: most are set for looks alone."""
    rules = list(_rules(_without_comments(text)))
    telling = {name for _, told in rules for name, value in told.items() if _TELLING.search(value)}
    for selector, told in rules:
        kept = {name: value for name, value in told.items() if name in telling}
        if kept:
            yield selector, kept


def _rules(text: str) -> Iterator[tuple[str, Declarations]]:
    """Yield selector and declarations of each rule that says something about showing or striking."""
    at = 0
    while True:
        opening = text.find("{", at)
        if opening < 0:
            return
        head = text[at:opening].split(";")[-1].strip()
        closing = _closing(text, opening)
        inside = text[opening + 1 : closing]
        at = closing + 1
        if head.startswith("@"):
            if re.fullmatch(r"@media\s+(?:only\s+)?(?:all|screen)", head, re.IGNORECASE) or head.startswith("@layer"):
                yield from _rules(inside)
            continue
        told = _read_declarations(inside)
        if told:
            yield head, told


def _closing(text: str, opening: int) -> int:
    """Return where the brace opened at `opening` closes; the end of the text if it does not."""
    depth = 0
    for found in re.compile(r"[{}]").finditer(text, opening):
        depth += 1 if found[0] == "{" else -1
        if depth == 0:
            return found.start()
    return len(text)


def _read_declarations(text: str) -> Declarations:
    told: Declarations = {}
    for part in text.split(";"):
        name, _, value = part.partition(":")
        name = name.strip().lower()
        if name in _PROPERTIES:
            told[name] = value.replace("!important", "").strip().lower()
    return told
