"""Store, find, decide, show. For Python: `open_catalogue` and `settings_frame`."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from torquary_catalogue.export.frame import settings_frame
    from torquary_catalogue.store import open_catalogue

__all__ = ["open_catalogue", "settings_frame"]

_STANDS_IN = {
    "open_catalogue": "torquary_catalogue.store",
    "settings_frame": "torquary_catalogue.export.frame",
}


def __getattr__(name: str) -> Any:
    """Import what is asked for only then: a question needs no frames, and `--help` no catalogue."""
    if name not in _STANDS_IN:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_STANDS_IN[name]), name)
