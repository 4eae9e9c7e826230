"""Whose screw is it? A terminal's, by what is printed for it; another, by its own name; or nothing says."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import get_args

from torquary_ingest.clauses.named_alone import has_unread_screw, is_of_another, is_unread_screw
from torquary_ingest.headings.sense import cut_out
from torquary_ingest.lexis.other_screws import other_screws
from torquary_ingest.scope import Level, is_sentence
from torquary_schema.roles import ends_in_markings, is_marking, says_terminal, spot_roles
from torquary_schema.torque_kinds import tightening_words
from torquary_schema.units import find_units
from torquary_schema.words import Kind, spot

TERMINAL = "electrical_terminal"

PRODUCTS = frozenset({"tb", "tb_pe", "pcb_tb", "conn"})
"""Families whose members are terminals themselves: their type names the terminal."""

_WORD = re.compile(r"(?<!\w)[^\W\d_]{4,}(?![\w-]*\d)")
"""A word, no part of a type."""

_ROLE_WORDS = 6
"""Words of a line at most that names terminals by a role alone ("Neutral conductor"): longer ones are sentences."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw:
    """The purpose of a screw and the printed text that says so, "" if nothing does.

    `weak`: only a role in a line above says so, which may be a machine's ("Output"). `against` is the text that
    says that the terminal has no screw.
    """

    purpose: str = TERMINAL
    proof: str = ""
    weak: bool = False
    against: str = ""


def find_screw(levels: Sequence[Level], conductor: str, *, bare: bool = False) -> Screw:
    """Return the screw that the nearest telling text names; `conductor` is the size printed in its row, or "".

    Where a row prints a dash for the conductor (`bare`) it must name its terminal itself: "End stop" has none.
    """
    for level in levels:
        found = _screw_of(level) if level.kind != "sheet" else _screw_of_sheet(level)
        if found is not None:
            return Screw(proof=conductor) if found.weak and conductor else found
        if level.kind == "row" and not conductor and (bare or _names_other_thing(level)):
            return Screw()  # "Wall plate screws" under "Terminal" are no terminal's for the heading alone
        if level.kind == "heading" and conductor:
            return Screw(proof=conductor)
    return Screw(proof=conductor)


def _names_other_thing(level: Level) -> bool:
    """Tell whether a row without a conductor names something by itself that is not known: "Clamp ring KR 30"."""
    return any(is_unread_screw(text) or _has_unknown_word(text) for text in level.texts)


def _has_unknown_word(text: str) -> bool:
    """Tell whether a text that names no screw has a word that no vocabulary has; parts of types are no words."""
    if says_terminal(text) or any(match.concept in ("terminal", "thread") for match in spot("heading", text)):
        return False
    known = [(one.start, one.end) for kind in get_args(Kind) for one in spot(kind, text)]
    return bool(_WORD.search(cut_out(text, known)))


def _screw_of(level: Level) -> Screw | None:
    """Return what one level says of the screw, None if it says nothing."""
    told = [text for text in level.texts if level.kind != "over" or not is_sentence(text)]
    # A row's own screw goes before the one in its torque's heading: texts are in the order of a row and its headings.
    telling = (text for text in level.texts if names_terminal_screw(text) or (text in told and other_screws(text)))
    named = next(telling, "")
    own = named if names_terminal_screw(named) else ""
    if named and not own:
        return Screw(purpose=other_screws(named)[0].concept, proof=named)
    sprung = next((text for text in level.texts if _is_sprung(text)), "")
    if sprung and not own:
        return Screw(against=sprung)
    plain = [text for text in level.texts if not _tells_else(level, text)]
    proof = own or next((text for text in plain if names_terminal(text)), "")
    if proof:
        return Screw(proof=proof)
    near = level.kind in ("row", "heading")
    role = next((text for text in plain if _names_role(text, near=near)), "")
    return Screw(proof=role, weak=not near and not _names_joint(role)) if role else None


def _tells_else(level: Level, text: str) -> bool:
    """Tell whether a line over rows names other screws too, or is a statement that is not of tightening."""
    if level.kind != "over":
        return False
    stated = is_sentence(text) and not text.rstrip().endswith(":")
    return has_unread_screw(text) or (stated and not (tightening_words(text) or _says_torque(text)))


def _says_torque(text: str) -> bool:
    return any(match.concept.startswith("torque") for match in spot("heading", text))


def _names_joint(text: str) -> bool:
    """Tell whether a text names what is screwed or joined there: "Bolted busbar joints"."""
    return any(match.concept == "terminal" for match in spot("heading", text))


def _screw_of_sheet(level: Level) -> Screw | None:
    """The head of a sheet speaks of much: of its screws only the name of a product that is terminals tells."""
    products = (text for text in level.texts if names_product_of_terminals(text))
    return next((Screw(proof=text) for text in products), None)


def names_product_of_terminals(text: str) -> bool:
    """Tell whether a text names a product whose members are terminals themselves: terminal blocks, earth bars."""
    return any(match.concept in PRODUCTS for match in spot("family", text)) and not has_unread_screw(text)


def names_terminal_screw(text: str) -> bool:
    """Tell whether a text names the screw of a terminal outright: "terminal screws"."""
    return any(match.concept == TERMINAL for match in spot("purpose", text)) and not is_of_another(text)


def names_terminal(text: str) -> bool:
    """Tell whether a text names a terminal by a word for one that is no part of another's name, by its clamp, or is
    its marking."""
    return bool(
        (says_terminal(text) and not is_of_another(text))
        or is_marking(text)
        or _is_marked(text)
        or any(match.concept != "screwless" for match in spot("clamp", text))
    )


def _is_marked(text: str) -> bool:
    """Tell whether a short text ends in markings of terminals, and gives no quantity."""
    return len(text.split()) <= _ROLE_WORDS and ends_in_markings(text) and not find_units(text)


def _names_role(text: str, *, near: bool) -> bool:
    """Tell whether a text names the role of a terminal; in a line above one letter alone is no role.

    "Motor" alone is the machine, not the terminals that it is connected to.
    """
    roles = [role for role in spot_roles(text) if role.concept != "motor"]
    short = len(text.split()) <= _ROLE_WORDS and not spot("family", text)
    return bool(roles) and (near or (short and any(len(role.printed) > 1 for role in roles)))


def _is_sprung(text: str) -> bool:
    clamps = {match.concept for match in spot("clamp", text)}
    return clamps == {"screwless"}
