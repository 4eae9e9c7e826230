"""All roles that the labels of an earlier layout name: it kept one of them, or none of several."""

from __future__ import annotations

import json

from torquary_catalogue.store.connection import Catalogue

ONE_ROLE = 3
"""The last layout that kept one role of a terminal."""

_TYPES = json.dumps([{"label": "VARCHAR", "roles": ["VARCHAR"], "more": ["VARCHAR"]}])
_NAME = """
UPDATE {table} SET roles = m.r.more FROM (SELECT unnest(from_json($named::JSON, $types)) AS r) AS m
WHERE {table}.terminal_printed = m.r.label AND {table}.roles = m.r.roles"""


def name_roles(catalogue: Catalogue) -> None:
    """Give each terminal, read or given by a person, the roles that its label names beside the one that was kept."""
    for table in ("setting", "name_given"):
        labels = f"SELECT DISTINCT terminal_printed AS label, roles FROM {table} WHERE terminal_printed IS NOT NULL"
        named = [row | {"more": _add(row["label"], row["roles"])} for row in catalogue.rows(labels)]
        changed = json.dumps([one for one in named if one["more"] != one["roles"]])
        catalogue.connection.execute(_NAME.format(table=table), {"named": changed, "types": _TYPES})


def name_roles_read(catalogue: Catalogue) -> None:
    """Give terminals that a person renamed before layout 6 the roles of what was read, as far as its label tells."""
    from torquary_catalogue.store.rows import names_any_terminal
    from torquary_schema.roles import roles_of_label
    from torquary_schema.values import Terminal

    renamed = """SELECT n.sheet, n.setting, n.terminal_printed AS label FROM name_read AS n
        JOIN setting AS s ON s.sheet = n.sheet AND s.id = n.setting WHERE s.terminal_printed <> n.terminal_printed"""
    for row in catalogue.rows(renamed):
        terminal = Terminal(printed=row["label"], roles=roles_of_label(row["label"]))
        catalogue.connection.execute(
            "UPDATE name_read SET roles = ?, any_terminal = ? WHERE sheet = ? AND setting = ?",
            [list(terminal.roles), names_any_terminal(terminal), row["sheet"], row["setting"]],
        )


def _add(label: str, kept: list[str]) -> list[str]:
    """Return the roles of the label, joined to what was kept where that came from the line over it."""
    from torquary_schema.roles import join_roles, roles_of_label

    named = roles_of_label(label)
    if set(kept) <= set(named):
        return list(named)
    return list(join_roles(kept, named)) if named else kept
