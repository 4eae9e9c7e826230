"""A limit that a sheet prints for all terminals of a device: said beside their own figures, never in place of one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_catalogue.find.row import Row
from torquary_catalogue.store import Catalogue

_LIMITS = """
SELECT sheet AS asked, id, device_printed, model, torque_printed, page
FROM setting
WHERE sheet IN (SELECT unnest($keys::VARCHAR[])) AND state = 'released' AND purpose = 'electrical_terminal'
    AND is_limit_for_all(any_terminal, limit_nm, min_nm, max_nm)
ORDER BY page, number"""


def say_limits(catalogue: Catalogue, rows: Sequence[Row]) -> Iterator[str]:
    """Say which limits stand for all terminals of the devices of these rows, unless they are rows of the answer."""
    if not rows:
        return
    devices = {(row.sheet, row.device_printed, row.model) for row in rows}
    files = {row.sheet: row.file for row in rows}
    shown = {row.id for row in rows}
    found = catalogue.look_up(_LIMITS, sorted(files))
    for row in sorted(found, key=lambda one: files[one["asked"]]):
        if row["id"] not in shown and (row["asked"], row["device_printed"], row["model"]) in devices:
            place = f"{files[row['asked']]} page {row['page']}"
            yield f"For all terminals the sheet prints a limit: “{row['torque_printed']}” ({place})."
