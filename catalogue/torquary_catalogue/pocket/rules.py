"""The rules and words of asking, as data that the page's script goes by: each is told in one place of `find`."""

from __future__ import annotations

import re
import shlex
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from torquary_catalogue.find import difference, query, question, rating, size, words
from torquary_catalogue.find.across import HABIT
from torquary_catalogue.find.answer import CAUTIONS
from torquary_catalogue.find.known import say_loaded, say_refused
from torquary_catalogue.find.row import Row
from torquary_catalogue.pocket.choosing import Chosen
from torquary_catalogue.show.notice import HEADLINES
from torquary_catalogue.store import Catalogue
from torquary_schema.sizes import pairings
from torquary_schema.vocabulary import SIDES, VocabularyName, vocabulary

_SHOWN_TERMS: tuple[VocabularyName, ...] = ("family", "role", "material", "stranding", "purpose")
_WORDS = "SELECT kind, concept, spelling, fit FROM known_word ORDER BY ALL"
_FAMILIES = "SELECT key, term FROM asked_term WHERE kind = 'family' ORDER BY key"
_WIDER = "SELECT key, wider_roles([key]) AS wider FROM asked_term WHERE kind = 'role' ORDER BY key"
_REFUSED_NAMES = "SELECT fold_names(file) AS words FROM sheet WHERE state = 'refused' ORDER BY file"
_OUT_OF_FORCE = """
SELECT h.file, h.state, list(w.word ORDER BY w.word) AS words
FROM sheet AS h JOIN sheet_word AS w ON w.sheet_number = h.number
WHERE h.state IN ('superseded', 'withdrawn') GROUP BY h.digest, h.file, h.state ORDER BY h.file"""


def read_rules(catalogue: Catalogue, chosen: Chosen) -> dict[str, Any]:
    """Return what the script needs beside the settings to understand a question and to word its answer."""
    return _write_constants() | {
        "words": [list(row.values()) for row in catalogue.rows(_WORDS)],
        "families": {row["key"]: row["term"] for row in catalogue.rows(_FAMILIES)},
        "wider": {row["key"]: row["wider"] for row in catalogue.rows(_WIDER) if row["wider"]},
        "gauges": _read_gauges(chosen),
        "loaded_of": list(say_loaded(_list_devices(chosen))),
        "loaded_families": sorted(_families_of(chosen)),
        "loaded": _count_families(catalogue, chosen),
        "refused": list(say_refused(catalogue)),
        "refused_names": [row["words"] for row in catalogue.rows(_REFUSED_NAMES)],
        "out_of_force": [row | {"quoted": shlex.quote(row["file"])} for row in catalogue.rows(_OUT_OF_FORCE)],
    }


def _write_constants() -> dict[str, Any]:
    forms = {"mm2": size.MM2, "gauge": size.GAUGE, "amps": rating.AMPS, "curve": rating.CURVE}
    return {
        "kinds": words.KINDS,
        "longest_phrase": words.LONGEST_PHRASE,
        "type_letters": words.TYPE_LETTERS,
        "forms": {name: _as_script(form) for name, form in forms.items()},
        "bare_sizes": sorted(f"{one:f}" for one in question.BARE_SIZES),
        "smallest_mm2": f"{question.SMALLEST_MM2:f}",
        "largest_mm2": f"{question.LARGEST_MM2:f}",
        "rated": sorted(rating.RATED),
        "ferrules": question.FERRULES,
        "nothing_asked": question.NOTHING_ASKED,
        "parts": question.PART_NAMES,
        "sides": sorted(SIDES),
        "most_beside": query.MOST_BESIDE,
        "aspects": [name for name, _ in difference.ASPECTS],
        "habit": HABIT,
        "pairings": [
            {"mm2": f"{one.mm2:f}", "gauges": one.gauges, "habit": one.habit, "source": one.source, "seen": one.seen}
            for one in pairings()
        ],
        "terms": {name: {key: entry.term for key, entry in vocabulary(name).items()} for name in _SHOWN_TERMS},
        "headlines": HEADLINES,
        "cautions": CAUTIONS,
    }


def _as_script(form: re.Pattern[str]) -> list[str]:
    r"""Return an expression and its flag as a script writes them: named groups, and `\w` with letters of any script."""
    word = r"\p{L}\p{N}_"
    pattern = form.pattern.replace("(?P<", "(?<").replace(r"[\w", f"[{word}").replace(r"\w", f"[{word}]")
    return [pattern, "i" if form.flags & re.IGNORECASE else ""]


def _read_gauges(chosen: Chosen) -> dict[str, float]:
    """Return the order of the gauges that are printed: computed anew, the last digit may be another."""
    ends = (("min_awg", "min_gauge"), ("max_awg", "max_gauge"))
    return {row[awg]: row[gauge] for row in chosen.columns for awg, gauge in ends if row[gauge] is not None}


def _list_devices(chosen: Chosen) -> Mapping[str, Sequence[str]]:
    """Return maker ("" for none) → the devices that are chosen of it."""
    devices: dict[str, set[str]] = {row.maker or "": set() for row in chosen.rows}
    for row in filter(_is_counted, chosen.rows):
        devices[row.maker or ""].add(row.model or row.series or row.device_printed or "")
    return {maker: sorted(names - {""}) for maker, names in sorted(devices.items())}


def _is_counted(row: Row) -> bool:
    return row.purpose == "electrical_terminal" and row.state != "rejected"


def _families_of(chosen: Chosen) -> Counter[str]:
    """Return the keys of kinds of device that are chosen, with their rows."""
    counts: Counter[str] = Counter()
    for row, columns in zip(chosen.rows, chosen.columns, strict=True):
        if _is_counted(row):
            said: Collection[str] = [row.family] if row.family else columns["says"] or ()
            counts.update(said)
    return counts


def _count_families(catalogue: Catalogue, chosen: Chosen) -> list[Mapping[str, Any]]:
    """Return the kinds of device that are chosen, with their rows, as `find` lists what is loaded."""
    families = {row["key"]: row["term"] for row in catalogue.rows(_FAMILIES)}
    counts = {key: count for key, count in _families_of(chosen).items() if key in families}
    ordered = sorted(counts, key=lambda key: (-counts[key], key))
    return [{"what": "kind of device", "name": families[key], "count": counts[key]} for key in ordered]
