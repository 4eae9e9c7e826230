"""The catalogue for other programs: Parquet (one file, or a folder in parts), CSV and JSON Lines."""

from torquary_catalogue.export.files import FORMATS, export
from torquary_catalogue.export.partitioned import PARTS, Part, export_parted

__all__ = ["FORMATS", "PARTS", "Part", "export", "export_parted"]
