"""Do the rules inside `@media` and `@supports` hold on the screen that a page is read for?

An answer is True, False, or None where it cannot be told (Media Queries 4, 3.1: "unknown").
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

import tinycss2
from tinycss2.ast import Node

from torquary_ingest.openers.web_page.css.lengths import ROOT, SCREEN_HIGH, SCREEN_WIDE, Scale, evaluate

Truth = bool | None

#: What a screen of usual size, set to defaults, says of itself. With or without a mouse is not told.
_SCREEN: dict[str, str] = {
    "orientation": "landscape",
    "prefers-color-scheme": "light", "prefers-reduced-motion": "no-preference", "prefers-contrast": "no-preference",
    "prefers-reduced-transparency": "no-preference", "prefers-reduced-data": "no-preference", "forced-colors": "none",
    "inverted-colors": "none", "update": "fast", "scripting": "enabled", "display-mode": "browser", "grid": "0",
    "scan": "progressive", "overflow-block": "scroll", "overflow-inline": "scroll", "dynamic-range": "standard",
    "-ms-high-contrast": "none",
}  # fmt: skip
_NUMBERS: dict[str, float] = {
    "width": SCREEN_WIDE, "height": SCREEN_HIGH, "device-width": SCREEN_WIDE, "device-height": SCREEN_HIGH,
    "aspect-ratio": SCREEN_WIDE / SCREEN_HIGH, "device-aspect-ratio": SCREEN_WIDE / SCREEN_HIGH, "resolution": 96.0,
    "color": 8.0, "monochrome": 0.0, "color-index": 0.0, "-webkit-device-pixel-ratio": 1.0,
}  # fmt: skip
_DPI = {"dpi": 1.0, "dpcm": 2.54, "dppx": 96.0, "x": 96.0}
_COMPARED: dict[str, Callable[[float, float], bool]] = {
    "<": lambda a, b: a < b, "<=": lambda a, b: a <= b, ">": lambda a, b: a > b, ">=": lambda a, b: a >= b,
    "=": lambda a, b: abs(a - b) < 1e-6,
}  # fmt: skip
_TURNED = {"<": ">", "<=": ">=", ">": "<", ">=": "<=", "=": "="}
_SUPPORTED = re.compile(
    r"--.+|display|color|background.*|opacity|visibility|clip(-path)?|content(-visibility)?|position|(row-|column-)?gap"
    r"|grid.*|flex.*|order|align-.*|justify-.*|place-.*|transform.*|scale|rotate|translate|filter|backdrop-filter|mask.*"
    r"|font.*|text-.*|overflow.*|object-.*|aspect-ratio|margin.*|padding.*|inset.*|width|height|min-.*|max-.*"
    r"|animation.*|transition.*|container.*|hyphens|direction|float|scroll-.*|accent-color|will-change|all|left|top"
    r"|-webkit-(line-clamp|mask.*|text-.*|appearance|backdrop-filter|box-.*)"
)


def holds_media(prelude: Sequence[Node]) -> Truth:
    """Tell whether a list of media queries holds: one that does suffices; an empty list always does."""
    queries = [_trim(query) for query in _split(prelude, ",")]
    if queries == [[]]:
        return True
    return _any([_holds_query(query) for query in queries])


def holds_supports(prelude: Sequence[Node]) -> Truth:
    """Tell whether a present-day browser supports what the condition asks for."""
    return _condition(_trim(prelude), _supports)


def _holds_query(query: list[Node]) -> Truth:
    words = [node.lower_value if node.type == "ident" else "" for node in query]
    if not words:
        return False
    turned = words[0] == "not" and len(query) > 1 and bool(words[1])
    query = query[1:] if turned or words[0] == "only" else query
    if not query or query[0].type != "ident" or query[0].lower_value in ("not", "and", "or"):
        return _condition(query, _feature)
    kind, rest = query[0].lower_value, query[1:]
    answer: Truth = kind in ("all", "screen")
    if rest:
        said = rest[0].type == "ident" and rest[0].lower_value == "and"
        answer = _all([answer, _condition(rest[1:], _feature) if said else False])
    return _not(answer) if turned else answer


def _condition(nodes: list[Node], judge: Callable[[list[Node]], Truth]) -> Truth:
    """Judge "not (…)", "(…) and (…)", "(…) or (…)"; what stands in brackets is a condition again, or judged."""
    if not nodes:
        return None
    if nodes[0].type == "ident" and nodes[0].lower_value == "not":
        return _not(_condition(nodes[1:], judge))
    answers: list[Truth] = []
    ties: set[str] = set()
    for at, node in enumerate(nodes):
        if at % 2:
            ties.add(node.lower_value if node.type == "ident" else "")
        else:
            answers.append(_operand(node, judge))
    if len(ties) > 1 or not ties <= {"and", "or"} or len(nodes) % 2 == 0:
        return None
    return _any(answers) if ties == {"or"} else _all(answers)


def _operand(node: Node, judge: Callable[[list[Node]], Truth]) -> Truth:
    if node.type == "function":
        return judge([node])
    if node.type != "() block":
        return None
    inside = _trim(node.content)
    again = bool(inside) and (
        inside[0].type == "() block" or (inside[0].type == "ident" and inside[0].lower_value == "not")
    )
    return _condition(inside, judge) if again else judge(inside)


def _supports(inside: list[Node]) -> Truth:
    if not inside:
        return None
    if inside[0].type == "function":
        asked = tinycss2.serialize(inside[0].arguments)
        known = re.fullmatch(r"[\w\s>+~*.:()-]*:(has|is|where|not|focus-visible|focus-within)\b.*", asked)
        return True if inside[0].lower_name == "selector" and known else None
    if inside[0].type != "ident" or len(inside) < 3 or inside[1] != ":":
        return None
    if inside[0].lower_value.startswith(("-ms-", "-moz-", "-o-")):
        return False
    return True if _SUPPORTED.fullmatch(inside[0].lower_value) else None


def _feature(inside: list[Node]) -> Truth:
    """Judge what stands in the brackets of a media feature: a name, "name: value", or a range of it."""
    if not inside:
        return None
    if inside[0].type == "ident" and len(inside) == 1:
        name = inside[0].lower_value
        if name in _NUMBERS:
            return _NUMBERS[name] > 0
        return _SCREEN[name] not in ("none", "0", "no-preference") if name in _SCREEN else None
    if inside[0].type == "ident" and len(inside) > 1 and inside[1] == ":":
        return _named(inside[0].lower_value, inside[2:])
    return _ranged(inside)


def _named(name: str, value: list[Node]) -> Truth:
    bound, plain = name[:4], name.replace("min-", "", 1).replace("max-", "", 1)
    if plain in _NUMBERS:
        given = _number(value)
        sign = {"min-": ">=", "max-": "<="}.get(bound, ">=" if name.startswith("-webkit-min") else "=")
        return None if given is None else _COMPARED[sign](_NUMBERS[plain], given)
    said = tinycss2.serialize(value).strip().lower()
    return _SCREEN[name] == said if name in _SCREEN else None


def _ranged(inside: list[Node]) -> Truth:
    """Judge "width >= 40em" and "20em < width <= 60em"."""
    parts: list[list[Node]] = [[]]
    signs: list[str] = []
    for node in inside:
        if node.type == "literal" and node.value in ("<", ">", "=", "<=", ">="):
            if parts[-1] or not signs:
                signs.append(node.value)
                parts.append([])
            else:
                signs[-1] += node.value
        else:
            parts[-1].append(node)
    names = [part[0].lower_value if len(part) == 1 and part[0].type == "ident" else "" for part in parts]
    at = next((n for n, name in enumerate(names) if name in _NUMBERS), None)
    if at is None or not signs:
        return None
    screen = _NUMBERS[names[at]]
    answers: list[Truth] = []
    for n, sign in enumerate(signs):
        left = n < at
        given = _number(parts[n] if left else parts[n + 1])
        compare = _COMPARED.get(_TURNED.get(sign, "") if left else sign)
        answers.append(None if given is None or compare is None else compare(screen, given))
    return _all(answers)


def _number(value: Sequence[Node]) -> float | None:
    nodes = _trim(value)
    if len(nodes) == 3 and nodes[1] == "/" and all(node.type == "number" for node in (nodes[0], nodes[2])):
        return nodes[0].value / nodes[2].value if nodes[2].value else None
    if len(nodes) == 1 and nodes[0].type == "dimension" and nodes[0].lower_unit in _DPI:
        return float(nodes[0].value * _DPI[nodes[0].lower_unit])
    return evaluate(nodes, Scale(em=ROOT))


def _trim(nodes: Sequence[Node]) -> list[Node]:
    return [node for node in nodes if node.type not in ("whitespace", "comment")]


def _split(nodes: Sequence[Node], mark: str) -> list[list[Node]]:
    parts: list[list[Node]] = [[]]
    for node in nodes:
        if node == mark:
            parts.append([])
        else:
            parts[-1].append(node)
    return parts


def _not(answer: Truth) -> Truth:
    return None if answer is None else not answer


def _all(answers: Sequence[Truth]) -> Truth:
    return False if False in answers else None if None in answers else True


def _any(answers: Sequence[Truth]) -> Truth:
    return True if True in answers else None if None in answers else False
