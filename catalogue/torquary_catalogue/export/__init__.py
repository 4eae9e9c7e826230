"""The catalogue for other programs: Parquet, CSV and JSON Lines."""

from torquary_catalogue.export.files import FORMATS, export

__all__ = ["FORMATS", "export"]
