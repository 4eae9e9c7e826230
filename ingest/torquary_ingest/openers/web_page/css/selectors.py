"""Selectors of CSS as paths through a page. What the translator lacks is rewritten; what is left cannot be told."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cssselect import ExpressionError, HTMLTranslator, SelectorError, parse

Strength = tuple[int, int, int]

_NAME = re.compile(r"(?<=[.#])[A-Za-z_][\w-]*(?![\w\\-])")
_NEGATED_LIST = re.compile(r":not\(([^()]*,[^()]*)\)")
_NEGATED_TYPE = re.compile(r":not\(:(first|last)-of-type\)")
#: Pseudo-classes that browsers know and the translator does not, written as it knows them: states of fields, and of
#: what a user is about, that text in a page at rest is not in; those that it always is in.
_AT_REST = re.compile(
    r"(?<!:):(?:focus-within|focus-visible|placeholder-shown|default|modal|indeterminate|in-range|out-of-range|required"
    r"|optional|valid|invalid|user-valid|user-invalid|fullscreen|popover-open|autofill|-webkit-autofill|-moz-[\w-]+"
    r"|-ms-[\w-]+|host(?:-context)?(?:\([^()]*\))?)(?![\w(-])"
)
_ALWAYS = re.compile(r"(?<!:):(?:read-only|defined)(?![\w(-])")
_LINKS = re.compile(r"(?<!:):(?:-webkit-)?any-link(?![\w(-])")
_INSIDE = r"\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\)"
#: Those of which it cannot be told whether they match.
_UNTOLD = re.compile(
    rf"(?<!:):(?:open|dir|is|where|has|not|nth-child|nth-last-child|matches|state|-webkit-any)(?:{_INSIDE})?"
)
_CHOICE = re.compile(rf":(?:is|where|matches|-webkit-any)(?P<list>{_INSIDE})")
_COMBINED = re.compile(r"[\s>+~]")
_MOST_CHOICES = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """Where a selector leads: an XPath, its strength, the pseudo-element; `certain` if it was read wholly."""

    path: str
    strength: Strength
    pseudo: str = ""
    certain: bool = True


class Selectors:
    """Translates selectors for a page in which only some names of classes and elements occur."""

    def __init__(self, names: set[str]) -> None:
        """Take the classes and ids that the page gives its elements."""
        self._names = names
        self._translator = HTMLTranslator()

    def paths(self, selectors: Sequence[str]) -> Iterator[Path]:
        """Yield the paths of a list of selectors; a list with one that browsers do not know counts for nothing."""
        found: list[Path] = []
        for text in selectors:
            plain = "(" not in text and (len(selectors) == 1 or ":" not in text)
            if plain and any(name not in self._names for name in _NAME.findall(text)):
                continue  # asks for a class or id that no element has: most rules of a site do
            read = self._translate(_rewrite(text))
            if read is None:
                return
            found += read
        yield from found

    def _translate(self, text: str, certain: bool = True) -> list[Path] | None:
        try:
            return [
                Path(
                    path=self._translator.selector_to_xpath(one),
                    strength=one.specificity(),
                    pseudo=str(one.pseudo_element or ""),
                    certain=certain,
                )
                for one in parse(text)
            ]
        except (SelectorError, ExpressionError, RecursionError):
            return self._choose(text) or self._suppose(text) if certain else None

    def _choose(self, text: str) -> list[Path]:
        """Write out the choices of `:is()` and `:where()`, one selector each; empty where that does not go."""
        found = _CHOICE.search(text)
        if not found:
            return []
        before, behind = text[: found.start()], text[found.end() :]
        lead = re.split(_COMBINED, before)[-1]
        choices = _split(found["list"][1:-1])
        paths: list[Path] = []
        for choice in choices[:_MOST_CHOICES]:
            joined = bool(lead) and not choice.startswith((".", "#", "[", ":"))
            if not choice or joined or (before and _COMBINED.search(re.sub(_INSIDE, "", choice))):
                return []
            read = self._translate(_rewrite(before + choice + behind))
            if read is None:
                return []
            paths += read
        if text[found.start() :].startswith(":where"):
            paths = [self._weakened(path, before, behind) for path in paths]
        return paths

    def _weakened(self, path: Path, before: str, behind: str) -> Path:
        """What `:where()` asks for adds nothing to the strength of its selector."""
        rest = self._translate(f"{before}{behind}".strip() or "*") or [Path(path="", strength=(0, 0, 0))]
        return Path(path=path.path, strength=rest[0].strength, pseudo=path.pseudo, certain=path.certain)

    def _suppose(self, text: str) -> list[Path] | None:
        """Return the paths of what is left without the parts that cannot be told; None if nothing can be made of it."""
        simpler = _UNTOLD.sub("", text).strip()
        return None if simpler == text else self._translate(simpler or "*", certain=False)


def _rewrite(text: str) -> str:
    """Write a selector as the translator knows it."""
    text = _NEGATED_LIST.sub(lambda m: "".join(f":not({one.strip()})" for one in m[1].split(",")), text)
    text = _NEGATED_TYPE.sub(lambda m: f":nth-{'last-' if m[1] == 'last' else ''}of-type(n+2)", text)
    return _LINKS.sub(":link", _ALWAYS.sub("", _AT_REST.sub(":focus", text))) or "*"


def _split(text: str) -> list[str]:
    """Split a list of selectors at the commas that are in no brackets."""
    parts, depth = [""], 0
    for letter in text:
        depth += {"(": 1, "[": 1, ")": -1, "]": -1}.get(letter, 0)
        if letter == "," and not depth:
            parts.append("")
        else:
            parts[-1] += letter
    return [part.strip() for part in parts]
