"""Optional content: which layers of a file are switched on for a reader."""

from __future__ import annotations

from typing import Any

from pdfminer.pdftypes import PDFObjRef, resolve1
from pdfminer.psparser import PSLiteral, literal_name


class Layers:
    """The default layer settings of a document (ISO 32000-1, 8.11)."""

    def __init__(self, catalog: dict[str, Any]) -> None:
        properties = resolve1(catalog.get("OCProperties"))
        default = resolve1(properties.get("D")) if isinstance(properties, dict) else None
        settings = default if isinstance(default, dict) else {}
        base = settings.get("BaseState")
        self._on_by_default = not (isinstance(base, PSLiteral) and literal_name(base) == "OFF")
        self._off = _ids(settings.get("OFF"))
        self._on = _ids(settings.get("ON"))
        self._switched = _switched_for_view(settings.get("AS"))

    def shows(self, group: Any) -> bool:
        """Tell whether content of this group (a reference to a group or membership dictionary) is shown."""
        if group is None:
            return True
        found = resolve1(group)
        if not isinstance(found, dict):
            return True
        kind = found.get("Type")
        if isinstance(kind, PSLiteral) and literal_name(kind) == "OCMD":
            return self._member_shows(found)
        return self._group_shows(group)

    def _group_shows(self, group: Any) -> bool:
        if not isinstance(group, PDFObjRef):
            return self._on_by_default
        if group.objid in self._switched:
            return self._switched[group.objid]
        if group.objid in self._off:
            return False
        return self._on_by_default or group.objid in self._on

    def _member_shows(self, membership: dict[str, Any]) -> bool:
        expression = resolve1(membership.get("VE"))
        if isinstance(expression, list):
            return self._holds(expression, 0)
        groups = membership.get("OCGs")
        if isinstance(groups, PDFObjRef) and not isinstance(resolve1(groups), list):
            members = [groups]
        else:
            members = list(resolve1(groups) or [])
        states = [self._group_shows(member) for member in members]
        if not states:
            return True
        policy = membership.get("P")
        name = literal_name(policy) if isinstance(policy, PSLiteral) else "AnyOn"
        return {
            "AllOn": all(states),
            "AnyOff": not all(states),
            "AllOff": not any(states),
        }.get(name, any(states))

    def _holds(self, expression: list[Any], depth: int) -> bool:
        if not expression or depth > 20:
            return True
        operator = literal_name(resolve1(expression[0]))
        parts = []
        for part in expression[1:]:
            inner = resolve1(part)
            parts.append(self._holds(inner, depth + 1) if isinstance(inner, list) else self._group_shows(part))
        if operator == "Not":
            return not any(parts)
        return all(parts) if operator == "And" else any(parts)


def _switched_for_view(applications: Any) -> dict[int, bool]:
    """Return the groups whose state a reader sets by their own usage (8.11.4.4), and that state.

    Only the state for viewing counts: what a zoom, a language or a user would switch is not known here, and the
    picture of the page tells where it mattered.
    """
    states: dict[int, bool] = {}
    found = resolve1(applications)
    for application in map(resolve1, found if isinstance(found, list) else []):
        if not isinstance(application, dict) or read_name(application.get("Event")) != "View":
            continue
        categories = resolve1(application.get("Category"))
        if "View" not in map(read_name, categories if isinstance(categories, list) else [categories]):
            continue
        groups = resolve1(application.get("OCGs"))
        for group in groups if isinstance(groups, list) else []:
            state = _state_for_view(group)
            if isinstance(group, PDFObjRef) and state:
                states[group.objid] = states.get(group.objid, True) and state == "ON"
    return states


def _state_for_view(group: Any) -> str:
    for key in ("Usage", "View"):
        group = resolve1(group)
        group = group.get(key) if isinstance(group, dict) else None
    view = resolve1(group)
    return read_name(view.get("ViewState")) if isinstance(view, dict) else ""


def read_name(value: Any) -> str:
    """Return the name that a value or the object behind it is; "" if it is none."""
    found = resolve1(value)
    return str(literal_name(found)) if isinstance(found, PSLiteral) else ""


def _ids(references: Any) -> frozenset[int]:
    found = resolve1(references)
    if not isinstance(found, list):
        return frozenset()
    return frozenset(one.objid for one in found if isinstance(one, PDFObjRef))
