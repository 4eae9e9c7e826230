"""From readings to settings: the one place where printed words and figures are interpreted."""

from torquary_ingest.normalise.settle import settle

__all__ = ["settle"]
