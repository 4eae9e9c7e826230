"""axe-core, which looks for what keeps people out of a page."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path
from typing import Any

from browser import Browser


def serious_faults(page: Browser) -> list[Any]:
    """Return the serious and critical faults of the page as it is: impact, rule, and the first element."""
    found = find_spec("axe_core_python")
    assert found is not None
    assert found.origin is not None
    page.run((Path(found.origin).parent / "axe.min.js").read_text("utf-8"))
    told = page.run("axe.run().then(told => told.violations.map(one => [one.impact, one.id, one.nodes[0].html]))")
    return [one for one in told if one[0] in ("serious", "critical")]
