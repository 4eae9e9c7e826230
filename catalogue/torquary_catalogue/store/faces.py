"""What each sheet shows of its maker and headings: it tells which sheets a change of layout profiles concerns."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.findings import as_json


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptFace:
    """The face of a sheet as the reader saw it, the digest of the profiles used, and how it was read.

    `head`, `makers` and `texts` are None for a sheet that was loaded before they were kept.
    """

    head: Sequence[str] | None = None
    makers: Sequence[str] | None = None
    texts: Sequence[str] | None = None
    profiles: str = ""
    every_page: bool = False
    unwitnessed: bool = False


_LISTS = ("head", "makers", "texts")
_TYPES: dict[str, Any] = {
    **dict.fromkeys(("sheet", "profiles"), "VARCHAR"),
    **{name: ["VARCHAR"] for name in _LISTS},
    **dict.fromkeys(("every_page", "unwitnessed"), "BOOLEAN"),
}


def write_faces(catalogue: Catalogue, faces: Mapping[str, KeptFace]) -> None:
    """Keep the face of each sheet (digest) in place of the one it had."""
    rows = [
        {"sheet": sheet, **asdict(face), **{name: list(getattr(face, name) or ()) for name in _LISTS}}
        for sheet, face in faces.items()
    ]
    if rows:
        catalogue.connection.execute(
            "INSERT OR REPLACE INTO sheet_face BY NAME SELECT unnest(r)"
            " FROM (SELECT unnest(from_json($rows::JSON, $types)) AS r)",
            as_json(rows, _TYPES),
        )


def read_faces(catalogue: Catalogue) -> dict[str, KeptFace]:
    """Return the faces of the sheets in force, by digest."""
    rows = catalogue.rows("""
        SELECT h.digest, f.head, f.makers, f.texts, coalesce(f.profiles, '') AS profiles,
            coalesce(f.every_page, false) AS every_page,
            coalesce(f.unwitnessed, h.digest IN (
                SELECT sheet FROM finding WHERE code = 'released_unwitnessed')) AS unwitnessed
        FROM sheet AS h LEFT JOIN sheet_face AS f ON f.sheet = h.digest
        WHERE h.state = 'read'""")
    return {row.pop("digest"): KeptFace(**row) for row in rows}
