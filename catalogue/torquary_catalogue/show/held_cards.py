"""The card of one held reading on the page: its picture, what was read, why it is held, and the choices."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any
from urllib.parse import quote

from torquary_catalogue.decimals import shorten
from torquary_catalogue.show.figures import write_figures
from torquary_catalogue.show.held import name_missing
from torquary_catalogue.show.row_words import write_bits
from torquary_catalogue.show.sheets import write_row_place
from torquary_catalogue.show.visible import to_json
from torquary_catalogue.show.web_page import keep, write
from torquary_schema.vocabulary import VocabularyName, vocabulary

_Row = Mapping[str, Any]
_CHOICES = ("leave", "accept", "correct", "reject")
_OVER = ("section", "section_row", "caption", "list_heading", "introduction", "heading")
_ALWAYS = ("device", "terminal", "conductor", "bit", "purpose", "conditions")
_HINTS = {
    "torque": ("figure", "2.5 Nm"), "terminal": ("terminal", "as read"), "conductor": ("conductor", "as read"),
    "device": ("device", "as read"), "drive": ("driver bit", "as read"),
}  # fmt: skip
"""Fields that are typed → label, what stands in an empty one."""


def write_picture(row: _Row) -> str:
    """Return the picture of a row, which opens in its full size; or that there is none."""
    if not row["picture"]:
        return '<p class="small">No picture is kept: look at the sheet.</p>'
    source = write(quote(Path(row["picture"]).name))
    alt = "the printed row with what stands over it, the torque outlined"
    return f'<a href="{source}"><img alt="{alt}" src="{source}"></a>'


def write_card(row: _Row) -> str:
    """Return the card of a held reading (a row of `read_held` with `picture`); nothing is chosen beforehand."""
    figure = write_figures([shorten(row[f"read_{name}_nm"]) for name in ("min", "nominal", "max", "limit")])
    why_not = _why_not_accepted(row, readable=bool(figure))
    reasons = "".join(f"<li>{write(reason['message'])}</li>" for reason in row["reasons"])
    named = "".join(
        f"<dt>{name}</dt><dd>{write(text) if text else 'not said'}</dd>"
        for name, text in _parts(row)
        if text or name in _ALWAYS
    )
    label = f"{row['file']}, {write_row_place(row)}"
    text = " ".join([label, *(text for _, text in _parts(row) if text)]).lower()
    return (
        f'<article tabindex="0" data-id="{write(row["id"])}" data-key="{write(row["id"])}" '
        f'data-printed="{keep(to_json(row["torque_printed"] or ""))}" data-text="{write(text)}" '
        f'data-why="{write(why_not)}" aria-label="{write(label)}">'
        f"<h3>{write(label)}</h3>{write_picture(row)}"
        f'<p class="read">{write(figure) if figure else "no figure was read"}</p><dl>{named}</dl><ul>{reasons}</ul>'
        '<p class="covered small" hidden>An answer above is for it too; what is chosen here goes before that.</p>'
        f"{write_choices(row['id'], _CHOICES, {'accept': why_not})}"
        f'<div class="fields" hidden>{"".join(_write_fields(row))}</div></article>'
    )


def _parts(row: _Row) -> Iterable[tuple[str, str]]:
    over = " / ".join(dict.fromkeys(one["text"] for one in row["scope"] or () if one["kind"] in _OVER))
    return (
        ("printed", row["torque_printed"] or ""),
        ("device", row["device_printed"]),
        ("terminal", row["terminal_printed"]),
        ("conductor", row["conductor_printed"]),
        ("bit", write_bits([(one["kind"], one["size"]) for one in row["drive"]])),
        ("purpose", _term("purpose", row["purpose"])),
        ("conditions", "; ".join(_term("condition", key) for key in row["conditions"] or ())),
        ("row", row["place_text"]),
        ("stands under", over),
        ("notes", " / ".join(one["text"] for one in row["scope"] or () if one["kind"] == "note")),
        ("missing", "; ".join(name_missing(row))),
    )


def _term(name: VocabularyName, key: str) -> str:
    known = vocabulary(name)
    return known[key].term if key in known else key


def _why_not_accepted(row: _Row, *, readable: bool) -> str:
    """Return why a reading cannot be accepted as it was read; "" if it can."""
    if not readable:
        return "No figure was read: correct it, or reject it."
    asked = {"device": "device", "terminal": "terminal", "unit": "unit", "size": "unit of the conductor size"}
    missing = {one["field"] for one in row["missing"]} | {name for name in row["lacks"] if name in ("unit", "size")}
    wanted = [said for name, said in asked.items() if name in missing]
    return f"The {' and the '.join(wanted)} is not certain: give it with correct, or answer above." if wanted else ""


def write_choices(name: str, choices: Iterable[str], disabled: Mapping[str, str]) -> str:
    """Return the choices as radio buttons, "leave" chosen; `disabled` says why one cannot be chosen, "" if it can."""
    radios = []
    for choice in choices:
        why = disabled.get(choice, "")
        state = " checked" if choice == "leave" else f' disabled title="{write(why)}"' if why else ""
        radios.append(f'<label><input type="radio" name="{write(name)}" value="{choice}"{state}> {choice}</label>')
    return f'<fieldset class="choice"><legend class="small">Decide</legend>{"".join(radios)}</fieldset>'


def _write_fields(row: _Row) -> Iterator[str]:
    missing = {one["field"] for one in row["missing"]}
    for name, (label, hint) in _HINTS.items():
        wanted = ' data-wanted required' if name in missing else ""
        shown = "as printed" if name in missing else hint
        yield (
            f'<div><label>right {label} <input type="text" name="{name}" placeholder="{shown}"{wanted}></label>'
            '<p class="note" role="alert"></p></div>'
        )
    yield f"<div>{write_purposes(row['purpose'])}</div>"
    given = set(row["conditions"] or ())
    ticks = "".join(
        f'<label class="tick"><input type="checkbox" name="conditions" value="{key}"'
        f"{' checked' if key in given else ''}> {write(entry.term)}</label>"
        for key, entry in vocabulary("condition").items()
    )
    yield f"<details><summary>conditions</summary>{ticks}</details>"


def write_purposes(chosen: str, label: str = "what the screw is for", first: str = "") -> str:
    """Return the purposes to choose from; `first` is what stands for none."""
    none = f'<option value="">{write(first)}</option>' if first else ""
    options = "".join(
        f'<option value="{key}"{" selected" if key == chosen else ""}>{write(entry.term)}</option>'
        for key, entry in vocabulary("purpose").items()
    )
    return f'<label>{label} <select name="purpose">{none}{options}</select></label>'
