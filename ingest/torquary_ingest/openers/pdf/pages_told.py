"""Which pages were read closely, which were passed over, and why: one finding for a sheet with pages passed over."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from torquary_ingest.document import PassedPage
from torquary_schema.places import write_pages
from torquary_schema.values import Finding


def tell_pages(why: Mapping[int, str], read: Sequence[int], passed: Sequence[PassedPage]) -> Iterator[Finding]:
    """Yield the finding; `why` tells why pages were chosen, `read` are those that were read, all counted from 1."""
    if not passed:
        return
    reasons: dict[str, list[int]] = {}
    for number in read:
        reasons.setdefault(why.get(number, "damage, or a font of unknown characters"), []).append(number)
    told = "; ".join(f"{write_pages(numbers)} ({reason})" for reason, numbers in reasons.items())
    left = write_pages([page.number for page in passed])
    unsearched = [page.number for page in passed if page.unsearched]
    pictures = f"; pictures on {write_pages(unsearched)} were not searched for print" if unsearched else ""
    message = f"{left}: passed over, for nothing there tells of a terminal's torque{pictures}. Read closely: {told}"
    yield Finding(code="pages_passed_over", scope="sheet", message=message)
