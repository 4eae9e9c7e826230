"""The rows whose printed range comes nearest to a size that no range holds. Nothing is interpolated."""

from __future__ import annotations

from decimal import Decimal

from torquary_catalogue.find.question import Question
from torquary_catalogue.find.row import Row


def choose_nearest(question: Question, rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """Return the rows just under and just over the size asked for, in the order given."""
    if question.mm2 is not None:
        size, ranges = question.mm2, [(row.min_mm2, row.max_mm2) for row in rows]
    else:
        from torquary_schema.sizes import circular_mils

        def order(gauge: str | None) -> Decimal | None:
            return None if gauge is None else circular_mils(gauge)

        size = circular_mils(question.awg or "")
        ranges = [(order(row.min_awg), order(row.max_awg)) for row in rows]
    under = [size - high if high is not None and high < size else None for _, high in ranges]
    over = [low - size if low is not None and low > size else None for low, _ in ranges]
    nearest = (_least(under), _least(over))
    return tuple(
        row
        for row, gaps in zip(rows, zip(under, over, strict=True), strict=True)
        if any(gap is not None and gap == least for gap, least in zip(gaps, nearest, strict=True))
    )


def _least(gaps: list[Decimal | None]) -> Decimal | None:
    return min((gap for gap in gaps if gap is not None), default=None)
