"""What of each element of a page shows on a screen: certainly, certainly not, or not to be told."""

from __future__ import annotations

from dataclasses import dataclass, replace

import tinycss2
from lxml import etree

from torquary_ingest.openers.web_page.css.cascade import Cascade, Styles
from torquary_ingest.openers.web_page.css.generated import generated_text
from torquary_ingest.openers.web_page.css.hiding import GONE, Box, judge
from torquary_ingest.openers.web_page.css.lengths import ROOT
from torquary_ingest.openers.web_page.css.paint import PLAIN, UNSEEN, Ink, inherit

_BLOCK_NAMES = (
    "address article aside blockquote body dd details dialog div dl dt fieldset figcaption figure footer form "
    "h1 h2 h3 h4 h5 h6 header hr html legend li main ol p pre section summary ul center caption tr td th tbody "
    "thead tfoot"
)
BLOCKS = frozenset(_BLOCK_NAMES.split())
_TABULAR_LIST = (
    "table caption colgroup col thead tbody tfoot tr td th"
)
_TABULAR = frozenset(_TABULAR_LIST.split())
_STRUCK_TAGS = frozenset({"s", "del", "strike"})
_UNSEEN_TAG_NAMES = (
    "script style template noscript head title meta link datalist select textarea object iframe audio video "
    "canvas rt rp nav"
)
_UNSEEN_TAGS = frozenset(_UNSEEN_TAG_NAMES.split())
_PRESENTED = {"font": {"color": "color"}, "body": {"text": "color", "bgcolor": "background-color"}}
_GROUNDED_LIST = (
    "table thead tbody tfoot tr td th"
)
_PLAIN_MARKERS = ("none", "disc", "circle", "square")
_GROUNDED = frozenset(_GROUNDED_LIST.split())


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """How an element shows.

    `gone`: neither it nor anything in it shows. `unseen`: its own text does not; elements in it may. `doubt` says
    why it cannot be told ("" if it can). `struck`: a line runs through it. `block`: it stands on lines of its own.
    `before` and `after` are texts that a style sheet adds to it, `added` says why it cannot be told what it adds.
    `placed`: it has a place among its neighbours, shown or not; `gap`: where its text does not show, its width stays.
    """

    ink: Ink = PLAIN
    gone: bool = False
    unseen: bool = False
    doubt: str = ""
    struck: bool = False
    block: bool = False
    in_cell: bool = False
    reversed: bool = False
    rem: float = ROOT
    before: str = ""
    after: str = ""
    added: str = ""
    placed: bool = True
    gap: bool = False


class Looks:
    """What the page's own style sheets, and the elements themselves, say of what shows."""

    def __init__(self, root: etree._Element) -> None:
        """Read the style sheets; raise `SheetRefused` (sheet_too_large) when there are too many rules to try."""
        self._cascade = Cascade(root)
        self._seen: dict[etree._Element, Sight] = {}

    def of(self, element: etree._Element) -> Sight:
        """Return how an element shows."""
        found = self._seen.get(element)
        if found is None:
            parent = element.getparent()
            around = self.of(parent) if parent is not None else Sight()
            found = self._seen[element] = self._look(element, around)
        return found

    def hides(self, element: etree._Element) -> bool:
        """Tell whether the element and all in it does not show."""
        return self.of(element).gone

    def style(self, element: etree._Element, name: str) -> str:
        """Return the value that style sheets give an element's own property, in small letters; "" if they give none."""
        return _word(self._cascade.declared(element), name)

    def _look(self, element: etree._Element, around: Sight) -> Sight:
        if not isinstance(element.tag, str) or element.tag in _UNSEEN_TAGS:
            return replace(around, gone=True, placed=False, gap=False)
        styles = {**_presented(element), **self._cascade.declared(element)}
        sight = _see(element, styles, around)
        supposed = self._cascade.supposed(element)
        if supposed:
            other = _see(element, {**styles, **supposed}, around)
            if (other.gone, other.unseen, other.doubt) != (sight.gone, sight.unseen, sight.doubt):
                sight = replace(sight, gone=False, unseen=False, doubt="a style may count for it or not")
        if element.tag == "table" and self._loses_columns(element):
            sight = replace(sight, doubt=sight.doubt or "a column of it does not show")
        if not sight.gone:
            sight = self._with_additions(element, styles, sight)
        return sight

    def _loses_columns(self, table: etree._Element) -> bool:
        """Tell whether a column is collapsed: it takes its cells with it, and which those are is not worked out."""
        columns = (column for column in table.iter("col", "colgroup"))
        return any(_word(self._cascade.declared(column), "visibility") == "collapse" for column in columns)

    def _with_additions(self, element: etree._Element, styles: Styles, sight: Sight) -> Sight:
        """Add what style sheets put before and after an element, and why its text may not be all that shows."""
        if self._cascade.animations.intersection(_word(styles, "animation-name").split()):
            sight = replace(sight, doubt=sight.doubt or "it changes in time")
        for name in self._cascade.pseudos(element):
            sight = self._with_pseudo(element, name, sight)
        grounded = "background-color" in styles or "background-image" in styles
        added = ""
        if sight.in_cell and self._numbers(element, styles):
            added = "a number or sign stands before it"
        elif sight.in_cell and grounded and _word(styles, "position") in ("absolute", "fixed"):
            added = "a box may be laid over it"
        elif element in self._cascade.may_add:
            added = "a style sheet may add text to it"
        return replace(sight, added=sight.added or added)

    def _with_pseudo(self, element: etree._Element, name: str, sight: Sight) -> Sight:
        """Add the text of a pseudo-element, or why it cannot be told what it does to the element."""
        own = self._cascade.declared(element, name)
        shown = _see(None, own, replace(sight, block=False))
        if name.startswith("first"):
            hidden = shown.gone or shown.unseen or shown.doubt
            return replace(sight, doubt=sight.doubt or ("its beginning may not show" if hidden else ""))
        text, doubt = generated_text(element, own)
        if shown.gone or (text is not None and text.strip() and shown.unseen):
            return sight
        if text is not None and not text.strip():
            covers = "background-color" in own and _word(own, "position") in ("absolute", "fixed", "relative")
            doubt = "a box may be laid over it" if covers and sight.in_cell else ""
        elif text is not None:
            sight = replace(sight, before=text) if name == "before" else replace(sight, after=text)
            doubt = doubt or shown.doubt
        return replace(sight, added=sight.added or doubt)

    def _numbers(self, element: etree._Element, styles: Styles) -> bool:
        """Tell whether an item of a list has a marker that reads as text: a number, or a string of a style sheet."""
        parent = element.getparent()
        if parent is None or not (element.tag == "li" or _word(styles, "display") == "list-item"):
            return False
        told = _word(styles, "list-style-type") or _word(self._cascade.declared(parent), "list-style-type")
        return not any(kind in told for kind in _PLAIN_MARKERS) if told else parent.tag == "ol"


def _see(element: etree._Element | None, styles: Styles, around: Sight) -> Sight:
    """Return how an element (None: a pseudo-element) shows in what is around it."""
    tag = str(element.tag) if element is not None else ""
    display = _display(element, styles)
    in_cell = around.in_cell or tag in ("td", "th")
    ink = inherit(around.ink, styles, around.rem)
    rem = ink.em if tag == "html" else around.rem
    block = _stands_alone(tag, display)
    box = Box(
        tag=tag,
        styles=styles,
        em=ink.em or ROOT,
        rem=rem,
        inline=_runs_in_line(tag, display, styles),
        tabular=tag in _TABULAR and (not display or display.startswith("table")),
        in_cell=in_cell,
        text="".join(map(str, element.itertext())).strip() if element is not None and _has_overflow(styles) else "",
    )
    verdict = GONE if display == "none" or _is_closed(element, styles) else judge(box)
    backwards, turned = _direction(element, styles, around, in_cell)
    seen = ink.seen()
    placed = display != "none" and box.word("position") not in ("absolute", "fixed")
    folded = tag == "details" and element is not None and element.get("open") is None
    doubts = ("" if verdict == GONE else verdict, turned, "" if seen == UNSEEN else seen, around.doubt)
    return Sight(
        ink=ink,
        gone=verdict == GONE or around.gone,
        placed=placed,
        unseen=seen == UNSEEN or folded,
        gap=placed and not folded and ink.em > 0,
        doubt=next((doubt for doubt in doubts if doubt), ""),
        struck=_struck(tag, styles),
        block=block,
        in_cell=in_cell,
        reversed=backwards,
        rem=rem,
    )


def _presented(element: etree._Element) -> Styles:
    """Return what attributes say of colours; any style sheet goes before them."""
    named = dict(_PRESENTED.get(str(element.tag), {}))
    if element.tag in _GROUNDED:
        named["bgcolor"] = "background-color"
    found: Styles = {}
    for attribute, name in named.items():
        value = (element.get(attribute) or "").strip()
        if value:
            found[name] = tuple(tinycss2.parse_component_value_list(value))
    return found


def _display(element: etree._Element | None, styles: Styles) -> str:
    """Return the display declared, or that of the attributes; "" for an element's own."""
    word = _word(styles, "display")
    if word and word not in ("revert", "revert-layer"):
        return "inline" if word in ("initial", "unset") else word
    if element is None:
        return ""
    hidden = element.get("hidden")
    if hidden is not None and hidden.strip().lower() != "until-found":
        return "none"
    closed = element.tag == "dialog" and element.get("open") is None
    return "none" if closed or element.get("popover") is not None else ""


def _is_closed(element: etree._Element | None, styles: Styles) -> bool:
    """Tell whether an element is part of closed details, or waits to be found."""
    if element is None:
        return False
    if (element.get("hidden") or "").strip().lower() == "until-found":
        return _word(styles, "content-visibility") in ("", "hidden")
    parent = element.getparent()
    if parent is None or parent.tag != "details" or parent.get("open") is not None:
        return False
    return element.tag != "summary" or element != next(iter(parent.iterchildren("summary")), None)


def _stands_alone(tag: str, display: str) -> bool:
    if not display or display in ("contents", "inherit"):
        return tag in BLOCKS
    return not display.startswith(("inline", "ruby", "math"))


def _runs_in_line(tag: str, display: str, styles: Styles) -> bool:
    """Tell whether a box is part of a line of text: floats and boxes out of the flow are none."""
    if _word(styles, "position") in ("absolute", "fixed") or _word(styles, "float") in ("left", "right"):
        return False
    return display in ("inline", "contents") or (not display and tag not in BLOCKS and tag not in _TABULAR)


def _struck(tag: str, styles: Styles) -> bool:
    line = _word(styles, "text-decoration-line")
    return "line-through" in line if line else tag in _STRUCK_TAGS


def _direction(element: etree._Element | None, styles: Styles, around: Sight, in_cell: bool) -> tuple[bool, str]:
    """Return whether text runs from right to left, and the doubt if a cell turns its own text round."""
    told = _word(styles, "direction") or ((element.get("dir") or "").lower() if element is not None else "")
    backwards = {"rtl": True, "ltr": False}.get(told, around.reversed)
    forced = "override" in _word(styles, "unicode-bidi") or (element is not None and element.tag == "bdo")
    turned = (backwards and forced) or (in_cell and told in ("rtl", "ltr") and backwards != around.reversed)
    return backwards, "its letters may run the other way" if turned else ""


def _has_overflow(styles: Styles) -> bool:
    return "overflow-x" in styles or "overflow-y" in styles


def _word(styles: Styles, name: str) -> str:
    value = styles.get(name)
    return tinycss2.serialize(value).strip().lower() if value else ""
