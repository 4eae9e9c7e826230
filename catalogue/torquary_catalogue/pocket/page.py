"""Writing the page: its settings, the rules of asking, and what it leaves out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from string import Template

from torquary_catalogue.find.answer import CAUTIONS
from torquary_catalogue.find.remarks import count_of
from torquary_catalogue.pocket.choosing import Chosen
from torquary_catalogue.pocket.rows import lay_out_columns
from torquary_catalogue.pocket.rules import read_rules
from torquary_catalogue.show.row_words import join
from torquary_catalogue.show.web_page import (
    PagePart,
    embed_png,
    put_data,
    read_parts,
    read_script,
    read_style,
    unseen_in_script,
    write,
)
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.pictures import read_pictures

_HERE = "torquary_catalogue.pocket"
_SCRIPTS = (
    "settings.js", "words.js", "question.js", "matching.js", "remarks.js", "spelling.js", "answer.js", "notice.js",
    "page.js",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Pocket:
    """A page, ready to be written to a file, and how many released settings, held readings and pictures it has."""

    text: str
    released: int
    held: int
    pictures: int


def write_pocket(
    catalogue: Catalogue, chosen: Chosen, *, made_on: date, good_for: int, unit: str, pictures: bool,
    plan: PagePart | None = None,
) -> Pocket:  # fmt: skip
    """Return the page of the settings chosen, torques in the unit (canonical name), good for so many days.

    It carries the work plan of a board (`plan`), if there is one.
    """
    drawn = _read_drawn(catalogue, chosen) if pictures else {}
    states = Counter(row.state for row in chosen.rows)
    data = {
        "made_on": made_on.isoformat(),
        "good_for": good_for,
        "columns": lay_out_columns(chosen, unit),
        "rules": read_rules(catalogue, chosen) | {"unseen": unseen_in_script()},
        "pictures": drawn,
    }
    left_out = list(_say_left_out(chosen, states, len(drawn) if pictures else None))
    parts = {
        "style": read_style(_HERE, "page.css") + (f"\n#plan {{\n{plan.style}\n}}" if plan else ""),
        "script": read_script(_HERE, *_SCRIPTS) + (f"\n{{\n{plan.script}\n}}" if plan else ""),
        "plan": _write_plan(plan) if plan else "",
        "data": put_data(data),
        "made": write(f"Made on {made_on:%Y-%m-%d} for {count_of(good_for, 'day')}, of {_count(chosen, states)}."),
        "cautions": "".join(f"<li>{write(caution)}</li>" for caution in CAUTIONS),
        "sheets": "".join(f"<li>{write(line)}</li>" for line in _name_sheets(chosen)),
        "left_out": "".join(f"<li>{write(line)}</li>" for line in left_out),
    }
    text = Template(read_parts(_HERE, "page.html")).substitute(parts)
    return Pocket(text=text, released=states["released"], held=states["held"], pictures=len(drawn))


def _write_plan(plan: PagePart) -> str:
    return f'<details id="plan"><summary>{write(plan.title)}</summary>\n{plan.text}\n</details>'


def _read_drawn(catalogue: Catalogue, chosen: Chosen) -> dict[str, str]:
    """Return place of the row → its picture, of released rows alone: that of a held one shows its figure."""
    at = {(row.sheet, row.id): number for number, row in enumerate(chosen.rows) if row.state == "released"}
    found = read_pictures(catalogue, {row.sheet for row in chosen.rows})
    return {str(at[key]): embed_png(png) for key, png in found if key in at}


def _count(chosen: Chosen, states: Counter[str]) -> str:
    return f"{count_of(states['released'], 'setting')} of {count_of(len({row.sheet for row in chosen.rows}), 'sheet')}"


def _name_sheets(chosen: Chosen) -> Iterator[str]:
    settings = Counter(row.sheet for row in chosen.rows if row.state == "released")
    used = {row.sheet for row in chosen.rows}
    for sheet in chosen.sheets:
        if sheet["digest"] in used:
            edition = sheet["edition"] or "edition not said"
            count = count_of(settings[sheet["digest"]], "setting")
            yield join(sheet["file"], sheet["maker"], sheet["title"], edition, count)


def _say_left_out(chosen: Chosen, states: Counter[str], pictures: int | None) -> Iterator[str]:
    """Say what the catalogue has and the page has not."""
    if chosen.said:
        yield f"Only what was chosen is here: {chosen.said}; {count_of(chosen.behind, 'setting')} stayed behind."
    if states["held"]:
        is_held = "reading is" if states["held"] == 1 else "readings are"
        yield f"{states['held']} {is_held} held: the page says so, with sheet and page, and has no figure of them."
    if states["rejected"]:
        yield f"{count_of(states['rejected'], 'figure')} that a person rejected."
    for state, why in (("superseded", "superseded"), ("withdrawn", "withdrawn"), ("refused", "could not be read")):
        files = [sheet["file"] for sheet in chosen.sheets if sheet["state"] == state]
        if files:
            yield f"{count_of(len(files), 'sheet')} {why}: {', '.join(files)}."
    if pictures is None:
        yield "Pictures of the printed rows: torquary pocket --pictures puts them in."
    elif pictures < states["released"]:
        yield f"Pictures of {count_of(states['released'] - pictures, 'setting')}: their sheets have no printed page."
    yield "All that was loaded, decided or put out of force since the page was made."
