"""A page that shows each held reading beside its picture, for a person to decide."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from importlib.resources import files
from pathlib import Path
from string import Template
from typing import Any
from urllib.parse import quote

from torquary_catalogue.decimals import shorten
from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.show.figures import write_figures
from torquary_catalogue.show.held import name_missing
from torquary_catalogue.show.sheets import write_row_place
from torquary_catalogue.show.visible import make_visible, to_json

NAME = "held.html"
_CHOICES = ("leave", "accept", "correct", "reject")


def write_held_page(rows: Sequence[Mapping[str, Any]], folder: Path) -> Path:
    """Write FOLDER/held.html for held readings (rows of held_setting with `picture`) and return its path.

    What is decided on it is saved by the browser as decisions.json (`decisions.schema.json`); the page itself
    changes nothing. Raises `TorquaryError` when the file cannot be written.
    """
    template = Template((files("torquary_catalogue.show") / "held_page.html").read_text("utf-8"))
    file = folder / NAME
    try:
        file.write_text(template.substitute(articles="\n".join(map(_write_article, rows))), encoding="utf-8")
    except OSError as error:
        raise TorquaryError(f"{file} cannot be written ({error.strerror}): name another folder") from None
    return file


def _write_article(row: Mapping[str, Any]) -> str:
    figure = write_figures([shorten(row[f"read_{name}_nm"]) for name in ("min", "nominal", "max", "limit")])
    printed = row["torque_printed"] or ""
    picture = (
        f'<img alt="printed row, the torque outlined" src="{_write(quote(Path(row["picture"]).name))}">'
        if row["picture"]
        else '<p class="small">No picture is kept: look at the sheet.</p>'
    )
    parts = (("printed", printed), ("device", row["device_printed"]), ("terminal", row["terminal_printed"]),
             ("conductor", row["conductor_printed"]), ("row", row["place_text"]),
             ("missing", "; ".join(name_missing(row))))  # fmt: skip
    named = "".join(f"<dt>{name}</dt><dd>{_write(text)}</dd>" for name, text in parts if text)
    reasons = "".join(f"<li>{_write(reason['message'])}</li>" for reason in row["reasons"])
    return (
        f'<article tabindex="0" data-id="{_write(row["id"])}" data-printed="{_keep(printed)}">'
        f"<h2>{_write(row['file'])}, {_write(write_row_place(row))}</h2>{picture}"
        f'<p class="read">{_write(figure) if figure else "no figure was read"}</p><dl>{named}</dl><ul>{reasons}</ul>'
        f"<fieldset>{_write_choices(row, readable=bool(figure))}</fieldset></article>"
    )


def _write(text: str) -> str:
    """Return text as the page shows it."""
    return escape(make_visible(text))


def _keep(text: str) -> str:
    """Return text as JSON, for the page to give back unchanged with a decision."""
    return escape(to_json(text))


def _write_choices(row: Mapping[str, Any], *, readable: bool) -> str:
    """Return the four choices; nothing is chosen beforehand.

    A reading without a figure, or without a device or terminal that print proves, cannot be accepted; the field of
    the one that is missing must be filled in.
    """
    name, radios = row["id"], []
    missing = {one["field"] for one in row["missing"]}
    acceptable = readable and not missing & {"device", "terminal"}
    for choice in _CHOICES:
        state = " checked" if choice == "leave" else "" if acceptable or choice != "accept" else " disabled"
        radios.append(f'<label><input type="radio" name="{_write(name)}" value="{choice}"{state}> {choice}</label>')
    fields = (("torque", "right figure", "2.5 Nm"), ("terminal", "right terminal", "as read"),
              ("conductor", "right conductor", "as read"), ("device", "right device", "as read"))  # fmt: skip
    return "".join(radios) + "<br>" + "".join(
        f'<label>{label} <input type="text" class="right" name="{part}" '
        f'placeholder="{"as printed" if part in missing else hint}"{" required" if part in missing else ""}></label>'
        for part, label, hint in fields
    )

