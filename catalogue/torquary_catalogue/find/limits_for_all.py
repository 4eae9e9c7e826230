"""A limit that a sheet prints for all terminals of a device: said beside their own figures, never in place of one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_catalogue.find.row import Row
from torquary_catalogue.store import Catalogue

_LIMITS = """
SELECT h.digest AS asked, s.id, s.sheet, s.device_printed, s.model, s.torque_printed, h.file, s.page
FROM setting AS s JOIN sheet AS h ON h.number = s.sheet_number
WHERE h.state = 'read' AND list_contains($keys::VARCHAR[], h.digest)
    AND s.state = 'released' AND s.purpose = 'electrical_terminal'
    AND is_limit_for_all(s.any_terminal, s.limit_nm, s.min_nm, s.max_nm)
ORDER BY h.file, s.page, s.number"""


def say_limits(catalogue: Catalogue, rows: Sequence[Row]) -> Iterator[str]:
    """Say which limits stand for all terminals of the devices of these rows, unless they are rows of the answer."""
    if not rows:
        return
    devices = {(row.sheet, row.device_printed, row.model) for row in rows}
    shown = {row.id for row in rows}
    for row in catalogue.look_up(_LIMITS, sorted({row.sheet for row in rows})):
        if row["id"] not in shown and (row["sheet"], row["device_printed"], row["model"]) in devices:
            place = f"{row['file']} page {row['page']}"
            yield f"For all terminals the sheet prints a limit: “{row['torque_printed']}” ({place})."
