"""What a sheet shows of its maker and headings: enough to tell which profiles are for it.

It is a module of its own, so that who takes a sheet from a worker need not import what makes faces.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """`head` are the lines that can name the maker, `makers` what is printed as the maker's name.

    `texts` are the keys (`heading_key`) of the texts that may be headings.
    """

    file: str
    head: tuple[str, ...]
    makers: tuple[str, ...]
    texts: frozenset[str]
