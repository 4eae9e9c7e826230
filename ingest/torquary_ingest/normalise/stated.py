"""What statements for all say of a setting: kinds of its conductor where it is silent, conditions that it is under."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from torquary_ingest.evidence.screws import TERMINAL
from torquary_ingest.headings.designations import find_types
from torquary_ingest.scope import Statement, agrees, fill_kinds
from torquary_schema.values import Conductor, Finding, ScopeText, Setting
from torquary_schema.words import fold, spot

_KINDS = ("material", "stranding", "ferrule")
_NEAR = ("row", "heading", "section_row", "list_heading")
_ALLOWS = {
    "copper_only": ("material", ("copper",)),
    "no_aluminium": ("material", ("copper",)),
    "solid_only": ("stranding", ("solid",)),
    "stranded_only": ("stranding", ("stranded",)),
    "flexible_only": ("stranding", ("flexible",)),
    "with_ferrule_only": ("ferrule", True),
    "without_ferrule_only": ("ferrule", False),
}
"""The kind that a condition leaves: a setting of another kind is not under it."""


def apply_statements(setting: Setting, levels: Iterable[Sequence[Statement]]) -> Setting:
    """Return a terminal's setting with what the statements that speak for it say, those of a level equally near.

    What its row says goes before them; of two statements the nearer counts, and of two equally near ones that differ
    neither. One that contradicts the row, or excepts its terminal, is not for it.
    """
    if setting.purpose != TERMINAL:
        return setting
    conductor, told = setting.conductor, dict[str, Statement]()
    for level in levels:
        near = (said for one in level for said in _said_of(one, setting))
        for one in _undisputed([one for one in near if _is_for(one, setting)]):
            if agrees(one, conductor) and (one.conditions or fill_kinds(conductor, one) != conductor):
                conductor = fill_kinds(conductor, one)
                told.setdefault(one.text, one)
    notes = {one.text for one in setting.scope if one.kind == "note"}
    conditions = (one for statement in told.values() for one in statement.conditions if _is_under(one, conductor))
    return replace(
        setting,
        conductor=conductor,
        conditions=tuple(dict.fromkeys((*setting.conditions, *conditions))),
        scope=(*setting.scope, *(_in_scope(one) for one in told.values() if one.text not in _texts(setting))),
        findings=(*setting.findings, *(_said(one, setting) for one in told.values() if one.text not in notes)),
    )


def _said_of(statement: Statement, setting: Setting) -> Iterator[Statement]:
    """Yield what a statement says of a setting: what its text says of its terminal alone, else what it says of all.

    Neither where its text speaks of a terminal of this role by another name.
    """
    label, roles = f" {fold(setting.terminal.printed)} ", frozenset(setting.terminal.roles)
    own = [one for one in statement.own if any(f" {name} " in label for name in one.names)]
    yield from own
    if not own and all(roles.isdisjoint(one.roles) for one in statement.own):
        yield statement


def _undisputed(near: Sequence[Statement]) -> Iterator[Statement]:
    """Yield the statements that give no kind otherwise than another one as near."""
    for one in near:
        if not any(_differ(getattr(one, kind), getattr(other, kind)) for other in near for kind in _KINDS):
            yield one


def _differ(said: object, other: object) -> bool:
    return said != other and said not in ((), None) and other not in ((), None)


def _is_for(statement: Statement, setting: Setting) -> bool:
    """Tell whether a statement may be for a setting: it does not except its terminal, nor contradict its row."""
    roles, clamps = setting.terminal.roles, frozenset(_clamps_of(setting))
    if not statement.spared_clamps.isdisjoint(clamps) or (statement.clamps and statement.clamps.isdisjoint(clamps)):
        return False
    if not statement.spared_types.isdisjoint(find_types(_device_of(setting))):
        return False
    if statement.spared and (not roles or not statement.spared.isdisjoint(roles)):
        return False
    return agrees(statement, setting.conductor)


def _device_of(setting: Setting) -> str:
    """Return the names that a setting prints for its device."""
    device = setting.device
    return " ".join(filter(None, (device.printed, device.series, device.model)))


def _clamps_of(setting: Setting) -> Iterator[str]:
    """Yield the kinds of clamp that a setting, its row or the name over its rows print."""
    near = (one.text for one in setting.scope if one.kind in _NEAR)
    yield from (match.concept for text in (setting.terminal.printed, *near) for match in spot("clamp", text))


def _is_under(condition: str, conductor: Conductor) -> bool:
    kind, left = _ALLOWS.get(condition, ("", None))
    return not kind or getattr(conductor, kind) in ((), None, left)


def _texts(setting: Setting) -> frozenset[str]:
    return frozenset(one.text for one in setting.scope)


def _in_scope(statement: Statement) -> ScopeText:
    return ScopeText(kind="statement", text=statement.text, page=statement.page)


def _said(statement: Statement, setting: Setting) -> Finding:
    message = f"the sheet says for its conductors: {statement.text}"
    return Finding(code="note_attached", message=message, place=setting.place, printed=statement.text)
