"""Which reading a person means."""

from __future__ import annotations

from typing import Any

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.store import Catalogue

_FIND = """
SELECT s.sheet, s.id, s.state, s.torque_printed, s.read_min_nm, s.read_nominal_nm, s.read_max_nm,
    s.read_limit_nm, s.min_nm, s.nominal_nm, s.max_nm, s.limit_nm, s.missing, h.file,
    s.device_printed, s.terminal_printed, s.conductor_printed
FROM setting AS s JOIN sheet AS h ON h.digest = s.sheet
WHERE h.state = 'read' AND s.state <> 'superseded' AND starts_with(s.id, $id)
ORDER BY s.id = $id DESC, h.file"""

_SHORTEST_ID = 4


def find_reading(catalogue: Catalogue, setting: str) -> dict[str, Any]:
    """Return the one reading in force whose id begins so; `TorquaryError` (status 2) for none or several."""
    if len(setting) < _SHORTEST_ID:
        raise TorquaryError(f"{setting!r} is too short for an id: see torquary held", status=WRONG_USE)
    found = catalogue.rows(_FIND, {"id": setting})
    if not found:
        raise TorquaryError(f"no setting in force has the id {setting!r}: see torquary held", status=WRONG_USE)
    if len(found) > 1 and found[0]["id"] != setting:
        raise TorquaryError(f"{len(found)} ids begin with {setting!r}: write more of it", status=WRONG_USE)
    return found[0]
