"""The product that a sheet is about: the name among its largest first lines.

What is left of a title without words for documents, torques and terminals, and is not the maker, is taken when it
shows itself to be a product's name, or when the file's name, its properties or a running line say it too. Two names
of one size that stand apart are two products: the sheet has none.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from torquary_ingest.headings.designations import find_types
from torquary_ingest.skeleton.lines import LARGE, Block
from torquary_ingest.skeleton.names import Rank, find_name, is_prose, names_company, names_part, rank_of, says_same
from torquary_schema.words import fold, spot

_EQUAL = 0.92
"""Sizes from this part of the largest on are as large: another product there stands beside the first."""

_CLEARLY = 1.2
"""Size of a name that shows nothing of a product over one that does, from which it is the title (own choice)."""

_NEAR = 2.0
"""Sizes of type between two blocks of one title at most: a type stands under the kind of device."""


_SENTENCE = re.compile(r"\w{3}\.\s")
"""The end of a sentence inside a text: what describes a product is no line of its types."""

_HYPHEN_END = re.compile(r"(?<=\w)-\n")


@dataclass(frozen=True, slots=True, kw_only=True)
class Product:
    """A product as named by the sheet; `title` are the printed lines it stands in, `page` where from 1."""

    name: str
    title: str
    page: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Witnesses:
    """Texts that say what a sheet is about beside its title: file name, properties, running lines; and its maker."""

    texts: tuple[str, ...] = ()
    maker: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Named:
    block: Block
    name: str
    rank: Rank


def find_product(blocks: Sequence[Block], head: Sequence[str], witnesses: Witnesses) -> Product | None:
    """Return the product that the large blocks of a first page name, None if none or several do.

    Where none is large, the first of the lines at the sheet's head that shows itself to name one: none is larger
    than the figures, and the first is the title. A line that begins small goes on another.
    """
    named = [one for block in blocks if (one := _name(block, witnesses)) is not None]
    if any(one.block.scale >= LARGE for one in named):
        return _choose(named, witnesses)
    lines = (_name(Block(page=1, lines=(line,)), witnesses) for line in head if not line[:1].islower())
    told = [one for one in lines if one is not None and one.rank >= Rank.TOLD]
    return _make(told[:1] + [one for one in told[1:2] if _adds_to(told[:1], one)]) if told else None


def _name(block: Block, witnesses: Witnesses) -> _Named | None:
    """Return the name in a block; a name that shows nothing of a product counts where a document is named after it."""
    names = [name for line in block.lines if (name := find_name(line))] if _says_more(block) else []
    name = _HYPHEN_END.sub("-", "\n".join(names)).replace("\n", " ")
    if not name or is_prose(name) or _is_maker(name, witnesses.maker) or _is_of_company(block):
        return None
    rank = rank_of(name)
    if rank is Rank.BARE and not any(says_same(name, text) and _names_document(text) for text in witnesses.texts):
        return None
    return _Named(block=block, name=name, rank=rank)


def _says_more(block: Block) -> bool:
    """Tell whether a block says more than a kind of document, which may be broken over its lines."""
    return is_prose(block.text) or bool(find_name(block.text))


def _choose(named: Sequence[_Named], witnesses: Witnesses) -> Product | None:
    """Return the largest name; of several as large the one that another text witnesses, or that shows most.

    A name that shows little is taken before one that shows more only where it is clearly larger.
    """
    shown = max((one.block.size for one in named if one.rank >= Rank.TOLD), default=0.0)
    named = [one for one in named if one.rank >= Rank.TOLD or one.block.size > _CLEARLY * shown]
    largest = max(one.block.size for one in named)
    groups = list(_group([one for one in named if one.block.size >= _EQUAL * largest]))
    groups = [group for group in groups if not names_part(group[0].name)] or groups
    if len(groups) > 1:
        told = [group for group in groups if any(_is_witnessed(one, witnesses) for one in group)]
        whole = [group for group in groups if any(one.rank is Rank.WHOLE for one in group)]
        groups = told if len(told) == 1 else whole
    return _make(_with_neighbours(groups[0], named)) if len(groups) == 1 else None


def _make(group: Sequence[_Named]) -> Product:
    return Product(
        name=" ".join(one.name for one in group),
        title=" ".join(one.block.text for one in group),
        page=group[0].block.page,
    )


def _group(named: Sequence[_Named]) -> Iterator[list[_Named]]:
    """Yield the names that stand under each other as one title."""
    group: list[_Named] = []
    for one in named:
        if group and not _stand_together(group[-1].block, one.block):
            yield group
            group = []
        group.append(one)
    if group:
        yield group


def _with_neighbours(group: list[_Named], named: Sequence[_Named]) -> list[_Named]:
    """Return a title with the lines right over and under it that add to its name; small ones stand under it."""
    told = [one for one in named if one in group or _adds_to(group, one)]
    first, last = told.index(group[0]), told.index(group[-1])
    while first and _stand_together(told[first - 1].block, told[first].block):
        first -= 1
    while last + 1 < len(told) and _stand_together(told[last].block, told[last + 1].block):
        last += 1
    return told[first : last + 1]


def _adds_to(group: Sequence[_Named], one: _Named) -> bool:
    """Tell whether a line adds to a title: a large one its kind or type, any line the type that the title lacks."""
    whole = " ".join(part.name for part in group)
    large = one.rank >= Rank.TOLD and one.block.scale >= LARGE
    typed = bool(find_types(one.name)) and not find_types(whole) and one.block.top >= group[-1].block.top
    typed = typed and not _SENTENCE.search(one.block.text)
    return (large or typed) and not _names_document(one.block.text) and not says_same(one.name, whole)


def _stand_together(above: Block, below: Block) -> bool:
    near = 0 <= below.top - above.bottom <= _NEAR * min(above.size, below.size)
    return near and above.x0 < below.x1 and below.x0 < above.x1


def _is_witnessed(one: _Named, witnesses: Witnesses) -> bool:
    return any(says_same(one.name, text) for text in witnesses.texts)


def _is_maker(name: str, maker: str) -> bool:
    """Tell whether a name is the maker's, or a part of it."""
    words = set(fold(name).split())
    return bool(maker) and words <= set(fold(maker).split())


def _is_of_company(block: Block) -> bool:
    return any(map(names_company, block.lines))


def _names_document(text: str) -> bool:
    return any(match.concept == "datasheet" for match in spot("document_word", text))
