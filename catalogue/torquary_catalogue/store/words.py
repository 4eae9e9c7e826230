"""The words that people ask with, kept in the catalogue, so that asking needs no word files."""

from __future__ import annotations

import hashlib
import json

from torquary_catalogue.store.connection import Catalogue
from torquary_schema.vocabulary import vocabulary
from torquary_schema.words import KINDS, Kind, concepts, languages, spellings

ASKED_KINDS: tuple[Kind, ...] = ("family", "role", "material", "stranding", "ferrule")
"""Kinds of words that mean something in a question."""

_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "Ä": "Ae", "Ö": "Oe", "Ü": "Ue"})
_FITS = {(False, False): "whole", (False, True): "starts", (True, False): "ends", (True, True): "contains"}


def refresh_words(catalogue: Catalogue) -> None:
    """Put the words of the vocabulary into the catalogue, unless they are there already."""
    with catalogue.transaction():
        put_words(catalogue)


def put_words(catalogue: Catalogue) -> None:
    """Do so within a transaction that is under way."""
    rows = json.dumps(_collect(), ensure_ascii=False)
    digest = hashlib.sha256(rows.encode()).hexdigest()
    run = catalogue.connection.execute
    if run("SELECT words FROM catalogue_format").fetchone() == (digest,):
        return
    types = json.dumps([dict.fromkeys(("kind", "concept", "spelling", "fit"), "VARCHAR")])
    run("DELETE FROM known_word")
    run(
        "INSERT INTO known_word SELECT DISTINCT r.kind, r.concept, fold_text(r.spelling), r.fit"
        " FROM (SELECT unnest(from_json($rows::JSON, $types)) AS r) WHERE fold_text(r.spelling) <> ''",
        {"rows": rows, "types": types},
    )
    run("UPDATE catalogue_format SET words = ?", [digest])


def _collect() -> list[dict[str, str]]:
    found = []
    for kind in ASKED_KINDS:
        assert kind in KINDS
        for concept in concepts(kind):
            found.append({"kind": kind, "concept": concept, "spelling": concept, "fit": "whole"})
            for language in languages():
                for printed in spellings(kind, concept, language):
                    found += _enter(kind, concept, printed)
    return found + _collect_markings()


def _collect_markings() -> list[dict[str, str]]:
    """Return the terminal markings of IEC 60445 and EN 50005; bare numbers would mean anything."""
    return [
        {"kind": "role", "concept": entry.key, "spelling": marking, "fit": "marking"}
        for entry in vocabulary("role").values()
        for marking in entry.markings
        if any(letter.isalpha() for letter in marking)
    ]


def _enter(kind: str, concept: str, printed: str) -> list[dict[str, str]]:
    bare = printed[1:-1] if len(printed) > 2 and printed[0] == printed[-1] == "|" else printed
    fit = _FITS[bare.startswith("*"), bare.endswith("*")]
    bare = bare.strip("*=")
    return [
        {"kind": kind, "concept": concept, "spelling": spelling, "fit": fit}
        for spelling in dict.fromkeys((bare, bare.translate(_UMLAUTS)))
    ]
