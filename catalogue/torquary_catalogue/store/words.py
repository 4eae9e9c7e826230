"""The words that people ask with, kept in the catalogue, so that asking needs no word files.

They are the printed words of the schema and those of `asked_words.json`, which are used in asking alone: trade
words, positions, kinds of bars, what asks for nothing. Where both have a word of a kind, the asked one holds.
"""

from __future__ import annotations

import hashlib
import json
import unicodedata
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import torquary_schema
from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.sheet_words import note_all_words
from torquary_schema.vocabulary import VOCABULARIES, vocabulary
from torquary_schema.words import KINDS, Kind, concepts, languages, spellings

ASKED_KINDS: tuple[Kind, ...] = ("family", "role", "material", "stranding", "ferrule")
"""Kinds of printed words that mean something in a question."""

_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "Ä": "Ae", "Ö": "Oe", "Ü": "Ue"})
_STROKES = str.maketrans({"ł": "l", "Ł": "L", "ø": "o", "Ø": "O", "đ": "d", "Đ": "D"})
"""Letters that are no letter with an accent, and are typed without their stroke all the same."""
_FITS = {(False, False): "whole", (False, True): "starts", (True, False): "ends", (True, True): "contains"}

_Word = dict[str, str]


def refresh_words(catalogue: Catalogue) -> None:
    """Put the words of the vocabulary into the catalogue, unless they are there already."""
    with catalogue.transaction():
        put_words(catalogue)


def put_words(catalogue: Catalogue, *, again: bool = False) -> None:
    """Do so within a transaction that is under way; `again` also notes what all settings say by them."""
    run = catalogue.connection.execute
    (row,) = catalogue.rows("SELECT coalesce(words, '') AS words FROM catalogue_format")
    sources = _take_digest_of_sources()
    # What the words are made from is compared first: making them takes longer than loading ten small sheets.
    rows, terms, digest = ("", "", "") if row["words"].startswith(sources) else _write()
    if digest and not row["words"].endswith(digest):
        types = json.dumps([dict.fromkeys(("kind", "concept", "spelling", "fit"), "VARCHAR")])
        run("DELETE FROM known_word")
        run(
            "INSERT INTO known_word SELECT DISTINCT r.kind, r.concept, fold_text(r.spelling), r.fit"
            " FROM (SELECT unnest(from_json($rows::JSON, $types)) AS r) WHERE fold_text(r.spelling) <> ''",
            {"rows": rows, "types": types},
        )
        _put_terms(catalogue, terms)
        again = True
    if digest:
        run("UPDATE catalogue_format SET words = ?", [f"{sources} {digest}"])
    if again:
        note_all_words(catalogue)


@cache
def _take_digest_of_sources() -> str:
    """Return the digest of all that the words are made from, which changes more often than they do."""
    here, schema = Path(__file__), Path(torquary_schema.__file__).parent
    sources = sorted(path for path in schema.rglob("*") if path.suffix in (".json", ".py"))
    told = hashlib.sha256()
    for path in (here, here.with_name("asked_words.json"), here.with_name("functions.sql"), *sources):
        told.update(path.read_bytes())
    return told.hexdigest()


@cache
def _write() -> tuple[str, str, str]:
    """Return words and terms as JSON, and their digest."""
    rows = json.dumps(_collect(), ensure_ascii=False)
    terms = json.dumps(_collect_terms(), ensure_ascii=False)
    return rows, terms, hashlib.sha256(f"{rows}{terms}".encode()).hexdigest()


def _put_terms(catalogue: Catalogue, terms: str) -> None:
    types = json.dumps([dict.fromkeys(("kind", "key", "term", "definition", "standard"), "VARCHAR")])
    catalogue.connection.execute("DELETE FROM asked_term")
    catalogue.connection.execute(
        "INSERT INTO asked_term BY NAME SELECT unnest(r) FROM (SELECT unnest(from_json($terms::JSON, $types)) AS r)",
        {"terms": terms, "types": types},
    )


def _read_asked() -> Any:
    return json.loads(Path(__file__).with_name("asked_words.json").read_text("utf-8"))


def _collect_terms() -> list[_Word]:
    """Return every key of every vocabulary, and those that only questions know, with its meaning."""
    known = [
        {"kind": name, "key": one.key, "term": one.term, "definition": one.definition, "standard": one.standard}
        for name in VOCABULARIES
        for one in vocabulary(name).values()
    ]
    asked = _read_asked()["terms"]
    return known + [{"kind": kind, "key": key, **term} for kind, keys in asked.items() for key, term in keys.items()]


def _collect() -> list[_Word]:
    asked = list(_collect_asked())
    taken = {(word["kind"], _fold(word["spelling"])) for word in asked}
    printed = [word for word in _collect_printed() if (word["kind"], _fold(word["spelling"])) not in taken]
    return asked + printed + _collect_markings()


def _collect_asked() -> Iterator[_Word]:
    for words in _read_asked()["words"].values():
        for kind, keys in words.items():
            for key, spelled in keys.items():
                for spelling in (key, *spelled) if kind in ("family", "part") else spelled:
                    yield from _enter(kind, key, spelling)


def _collect_printed() -> Iterator[_Word]:
    for kind in ASKED_KINDS:
        assert kind in KINDS
        for concept in concepts(kind):
            yield {"kind": kind, "concept": concept, "spelling": concept, "fit": "whole"}
            for language in languages():
                for printed in spellings(kind, concept, language):
                    yield from _enter(kind, concept, printed)
    for language in languages():
        for printed in spellings("heading", "terminal", language):
            yield from _enter("wish", "plain", printed)


def _collect_markings() -> list[_Word]:
    """Return the terminal markings of IEC 60445 and EN 50005; bare numbers would mean anything."""
    return [
        {"kind": "role", "concept": entry.key, "spelling": marking, "fit": "marking"}
        for entry in vocabulary("role").values()
        for marking in entry.markings
        if any(letter.isalpha() for letter in marking)
    ]


def _fold(text: str) -> str:
    plain = "".join(letter for letter in unicodedata.normalize("NFD", text) if not unicodedata.combining(letter))
    return " ".join("".join(letter if letter.isalnum() else " " for letter in plain.lower()).split())


def _enter(kind: str, concept: str, printed: str) -> list[_Word]:
    bare = printed[1:-1] if len(printed) > 2 and printed[0] == printed[-1] == "|" else printed
    fit = _FITS[bare.startswith("*"), bare.endswith("*")]
    bare = bare.strip("*=")
    return [
        {"kind": kind, "concept": concept, "spelling": spelling, "fit": fit}
        for spelling in dict.fromkeys((bare, bare.translate(_UMLAUTS), bare.translate(_STROKES)))
    ]
