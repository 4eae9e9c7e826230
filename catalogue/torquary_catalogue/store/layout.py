"""The layout of the tables: made in a new file, brought up to date in one that an earlier version wrote.

Whoever changes a table changes `tables.sql` (or the script of a table beside it) for new files, and adds one script
`to_layout_N.sql` for those that are there: N is the next number, and LAYOUT becomes it. The script says what layout
N - 1 lacks, in SQL, and loses nothing that a person decided; it is never changed once it has been given out. Views,
macros, comments and words need no step: they are made anew.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from torquary_catalogue.store.connection import Catalogue

LAYOUT = 10
"""Number of the layout that this version writes; the first was 1."""

_TABLES = "tables.sql"
_BESIDE = (
    "picture.sql", "face.sql", "names_given.sql", "decided_print.sql", "sheet_word.sql", "record.sql", "answer.sql",
    "asked_term.sql", "work_entry.sql",
)  # fmt: skip
_SHOWN = ("functions.sql", "views.sql", "find_setting.sql", "find_words.sql")


def make_tables(catalogue: Catalogue) -> None:
    """Make tables, macros and views in an empty file, in one transaction."""
    from importlib.metadata import version

    with catalogue.transaction():
        for name in (_TABLES, *_BESIDE):
            catalogue.connection.execute(_read(name))
        show_tables(catalogue)
        _comment_columns(catalogue)
        catalogue.connection.execute(
            "INSERT INTO catalogue_format VALUES (?, ?, (now() AT TIME ZONE 'UTC'), NULL)",
            [LAYOUT, f"torquary {version('torquary')}"],
        )


def show_tables(catalogue: Catalogue) -> None:
    """Make the views and macros over the tables."""
    for name in _SHOWN:
        catalogue.connection.execute(_read(name))


def read_layout(catalogue: Catalogue) -> int:
    """Return the number of the layout that the file has; duckdb.CatalogException where it is no catalogue."""
    found = catalogue.connection.execute("SELECT version FROM catalogue_format").fetchone()
    return int(found[0]) if found else 0


def bring_up_to_date(catalogue: Catalogue) -> None:
    """Take the file, open for writing, step by step to the layout of this version: all of it, or nothing."""
    from torquary_catalogue.store.more_roles import ONE_ROLE, name_roles, name_roles_read
    from torquary_catalogue.store.words import put_words

    run = catalogue.connection.execute
    with catalogue.transaction():
        before = read_layout(catalogue)
        if before >= LAYOUT:
            return  # another program did it meanwhile
        _drop_shown(catalogue)
        _run_parts(catalogue, _BESIDE, shapes=True)
        for number in range(before + 1, LAYOUT + 1):
            run(_read(f"to_layout_{number}.sql"))
        if before <= ONE_ROLE:
            name_roles(catalogue)
        name_roles_read(catalogue)
        _run_parts(catalogue, (_TABLES, *_BESIDE), shapes=False)
        show_tables(catalogue)
        _comment_columns(catalogue)
        put_words(catalogue, again=True)
        run("UPDATE catalogue_format SET version = ?", [LAYOUT])


def _read(name: str) -> str:
    return (Path(__file__).parent / name).read_text("utf-8")


def _drop_shown(catalogue: Catalogue) -> None:
    """Drop views and macros: they show columns that the steps may change."""
    for row in catalogue.rows("SELECT view_name AS name FROM duckdb_views() WHERE NOT internal"):
        catalogue.connection.execute(f'DROP VIEW "{row["name"]}"')
    made = "SELECT function_name AS name, function_type AS type FROM duckdb_functions() WHERE NOT internal"
    for row in catalogue.rows(made):
        table = "TABLE " if row["type"] == "table_macro" else ""
        catalogue.connection.execute(f'DROP MACRO {table}"{row["name"]}"')


def _run_parts(catalogue: Catalogue, names: Iterable[str], *, shapes: bool) -> None:
    """Carry out of these scripts what makes tables, or what they say beside them: comments, rows that they fill in."""
    for name in names:
        for statement in catalogue.connection.extract_statements(_read(name)):
            if _is_shape(statement.query) is shapes:
                catalogue.connection.execute(statement)


def _is_shape(query: str) -> bool:
    lines = [line for line in query.splitlines() if line.strip() and not line.lstrip().startswith("--")]
    return lines[0].lstrip().upper().startswith("CREATE TABLE")


def _comment_columns(catalogue: Catalogue) -> None:
    """Give each column without a comment, of a view or a table beside, that of the table column it shows."""
    uncommented = catalogue.rows("""
        SELECT v.table_name AS shown, v.column_name AS name,
            first(t.comment ORDER BY t.table_name DESC) AS comment
        FROM duckdb_columns() AS v
        JOIN duckdb_columns() AS t ON t.column_name = v.column_name AND t.comment IS NOT NULL
        WHERE v.comment IS NULL AND NOT v.internal
        GROUP BY ALL""")
    for column in uncommented:
        comment = column["comment"].replace("'", "''")
        catalogue.connection.execute(f"COMMENT ON COLUMN {column['shown']}.{column['name']} IS '{comment}'")
