"""What each sheet shows of its maker and headings: it tells which sheets a change of layout profiles concerns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from torquary_catalogue.store.connection import Catalogue


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


def write_face(catalogue: Catalogue, sheet: str, face: KeptFace) -> None:
    """Keep the face of a sheet in place of the one it had."""
    catalogue.connection.execute(
        "INSERT OR REPLACE INTO sheet_face VALUES (?, ?, ?, ?, ?, ?, ?)",
        [
            sheet,
            list(face.head or ()),
            list(face.makers or ()),
            list(face.texts or ()),
            face.profiles,
            face.every_page,
            face.unwitnessed,
        ],
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
