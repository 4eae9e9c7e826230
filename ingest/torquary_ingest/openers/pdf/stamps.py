"""Watermarks printed upright: large pale words that lie across the sheet's own text."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.openers.pdf.paint import shared_part
from torquary_ingest.openers.pdf.pieces import Piece

LARGE = 2.2
"""A watermark's letters are at least so many times as large as the text it crosses."""


def find_stamps(pieces: Sequence[Piece]) -> set[int]:
    """Return the identities of the pieces that are pale, large and lie over other pieces, with their whole line."""
    if not pieces:
        return set()
    usual = sorted(piece.size for piece in pieces)[len(pieces) // 2]
    crossing = [
        piece
        for piece in pieces
        if piece.pale
        and piece.size >= LARGE * usual
        and any(
            other is not piece and other.size * LARGE <= piece.size and shared_part(other.box, piece.box) > 0.2
            for other in pieces
        )
    ]
    return {
        id(piece)
        for piece in pieces
        for stamp in crossing
        if piece.pale
        and piece.turn == stamp.turn
        and abs(piece.size - stamp.size) <= 0.1 * stamp.size
        and abs(piece.base - stamp.base) <= 0.2 * stamp.size
    }
