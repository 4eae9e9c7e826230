"""What was understood of a question, in words: "main switch, supply side, 25 mm²"."""

from __future__ import annotations

from torquary_catalogue.find import Answer
from torquary_catalogue.find.choices import name_kind, name_part
from torquary_catalogue.find.remarks import name_roles
from torquary_catalogue.show.row_words import join, term


def write_asked(answer: Answer) -> str:
    """Write the question as it was taken."""
    question = answer.question
    return join(
        name_kind(question.family) if question.family else "",
        question.maker,
        question.series,
        f"“{question.words}”" if question.words else "",
        question.rating,
        _write_terminal(answer),
        name_part(question.part) if question.part else "",
        question.size,
        f"{question.conductors} in one terminal" if question.conductors else "",
        term("material", question.material),
        term("stranding", question.stranding),
        {True: "with ferrule", False: "without ferrule", None: ""}[question.ferrule],
        f"{term('purpose', question.purpose)} screw" if question.purpose else "",
        "its driver bit" if question.asks_bit else "",
    )


def _write_terminal(answer: Answer) -> str:
    """Write the terminal asked for; of a word with two meanings those that the rows have, or the first."""
    question, fits = answer.question, {row.terminal_fit for row in (*answer.rows, *answer.held)}
    second = question.or_roles if "or_role" in fits else None
    first = None if fits == {"or_role"} else question.roles
    return " or ".join(name_roles(roles) for roles in (first, second) if roles) or question.terminal or ""
