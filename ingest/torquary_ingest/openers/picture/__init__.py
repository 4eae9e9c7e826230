"""The opener for picture files: photographs and scans of sheets."""

from torquary_ingest.openers.picture.opener import PictureOpener

__all__ = ["PictureOpener"]
