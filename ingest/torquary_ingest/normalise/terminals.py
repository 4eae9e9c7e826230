"""The terminal a reading is for, the purpose of its screw, and the device it belongs to."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from torquary_ingest.document import Doubt, Reading
from torquary_ingest.figures import read_drive
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.column_cells import cut_thread
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.grid import join_lines, text_of
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.normalise.device_lines import (
    BOARDS,
    designates,
    is_length,
    is_prose,
    is_step,
    names_family,
    names_part,
    whole_title,
)
from torquary_schema.roles import narrowest, role_of_label, spot_roles
from torquary_schema.values import Device, Drive, Terminal
from torquary_schema.vocabulary import role_of_marking
from torquary_schema.words import Kind, spot

_CONTACTS = re.compile(r"\d+\s*[x×]?\s*(?:NO|NC|CO|C/O)(?!\w)")  # "1 NO + 1 NC" counts contacts
_SIZE_NAME = 4
"""Letters of the name of a device's size at most: "S00", "0", "2"."""
_DECIMAL = re.compile(r"\d+[.,]\d+(?:\W+\d+[.,]\d+)?")


def name_terminal(reading: Reading, title: str = "", headlines: Sequence[str] = ()) -> Terminal:
    """Return the terminal with its printed label; an empty label means that nothing names it.

    `title` is the sheet's, `headlines` are the lines at its head.
    """
    label = " / ".join(dict.fromkeys(text for text in _labels(reading) if text))
    label = label or _fallback_label(reading, title, headlines)
    return Terminal(
        printed=label,
        role=_role_of(reading, label),
        clamp=_first("clamp", _texts(reading, "clamp", "terminal")),
        thread=_thread(reading),
        drive=_drives(reading),
    )


def _labels(reading: Reading) -> list[str]:
    """Return the row's labels, then the qualifiers: what a heading says beyond the known words."""
    rows = [text_of(entry.cell) for entry in reading.entries if entry.field == "terminal"]
    rows = [text for text in rows if not (_CONTACTS.match(text) or _heads_values(text))]
    if rows and all(map(_is_bare_name, rows)) and (band := _band_for(reading)):
        rows = [band, *rows]
    more = [entry.heading for entry in reading.entries if entry.field == "qualifier"]
    if any(rows):
        more = [text for text in more if not (_heads_labels(text) or _is_device(text) or _ends_device(text, reading))]
    if more and not rows and not any(map(spot_roles, more)) and (band := _band_for(reading)):
        more = [band, *more]
    return rows + more


def _is_bare_name(text: str) -> bool:
    """Tell whether a label names a type or size of device ("VK9", "S1"): a line over it names the terminals."""
    if spot_roles(text) or role_of_marking(text) is not None:
        return False
    return bool(find_types(text)) or (len(text) <= _SIZE_NAME and text.isalnum())


def _is_device(text: str) -> bool:
    """Tell whether a heading over a column names a device and no terminal."""
    return names_family(text) and not spot_roles(text) and not make_sense(text).has("terminal")


def _ends_device(text: str, reading: Reading) -> bool:
    """Tell whether a type is the end of the device's name in a line that the columns cut: it names no terminal."""
    lines = [line.rstrip() for line in reading.context if names_family(line)]
    return bool(find_types(text)) and any(line.endswith(text.strip()) for line in lines)


def _heads_values(text: str) -> bool:
    """Tell whether a label is the corner of a list, "Value" or "Unit"."""
    sense = make_sense(text)
    return bool(sense.fields) and set(sense.fields) <= {"value", "unit", "property"} and not sense.rest


def _heads_labels(text: str) -> bool:
    """Tell whether a text is nothing but a heading of terminals: beside a label it adds nothing."""
    return any(m.concept == "terminal" and m.end - m.start == len(text.strip()) for m in spot("heading", text))


def _fallback_label(reading: Reading, title: str, headlines: Sequence[str]) -> str:
    """Without a label of its own a row is named by its thread, its device, or the line that stands over it."""
    thread = _thread(reading)
    if thread:
        over = next((line.strip() for line in reading.context[-1:] if spot_roles(line) and not states_torque(line)), "")
        return " / ".join(part for part in (over, thread) if part)
    for field in ("model", "device", "series", "rated_current", "clamp"):
        text = _text(reading, field)
        if text and not (field == "device" and is_length(text)):
            return _band_for(reading) or text
    named = _named_in_headings(reading)
    if named:
        return named
    for line in reversed(reading.context):
        if (spot_roles(line) or make_sense(line).has("terminal")) and not states_torque(line):
            return line.strip()
    line = next((line.strip() for line in reversed(reading.context) if not _is_about_figures(line)), "")
    if heads_figures(line):
        return line
    # Of a title in several lines the one that says what the device is stands for all its terminals, or all of it.
    lines = [*reversed(reading.context), *(headlines if line in map(str.strip, headlines) else ())]
    families = (one.strip() for one in lines if line and names_family(one) and not states_torque(one))
    return next(families, whole_title(line, title))


def _band_for(reading: Reading) -> str:
    """Return the line right over rows of types when it names their terminals and no device: "Main terminals"."""
    line = reading.context[-1] if reading.context else ""
    return line.strip() if spot_roles(line) and not names_family(line) and not _is_about_figures(line) else ""


def heads_figures(label: str) -> bool:
    """Tell whether a label is nothing but a heading for torques or sizes: the table was read askew."""
    sense = make_sense(label)
    said = sense.has("torque", "torque_min", "torque_max", "conductor") and not sense.has("terminal", "thread")
    return said and not sense.rest and not spot_roles(label)


def states_figure(reading: Reading, label: str) -> bool:
    """Tell whether a part of a label states a torque, or is a bare figure beside a name, or a heading is one.

    The print of another row or column was then taken for a name.
    """
    headings = [entry.heading for entry in reading.entries if entry.field == "qualifier"]
    parts = label.split(" / ")
    bare = any(_DECIMAL.fullmatch(text.strip()) for text in (*headings, *(parts if len(parts) > 1 else ())))
    return bare or any(states_torque(part) for part in parts)


def _is_about_figures(line: str) -> bool:
    """Tell whether a line is figures, or speaks of them ("All values in N·m"), and names nothing they are for."""
    sense = make_sense(line)
    return sense.figure or (bool(sense.unit("torque")) and not spot("family", line))


def _named_in_headings(reading: Reading) -> str:
    """A heading such as "Anzugsdrehmoment der Klemmen" names the terminals itself."""
    for entry in reading.entries:
        if entry.field.startswith("torque"):
            found = [m for m in spot("heading", entry.heading) if m.concept == "terminal"]
            found += spot_roles(entry.heading)
            if found:
                return " ".join(match.printed for match in sorted(found, key=lambda match: match.start))
    return ""


def _role_of(reading: Reading, label: str) -> str | None:
    """Return the role that the label names, or the line over it; of a phase without a side the line's side counts."""
    own, over = role_of_label(label), _only_role(reading.context)
    if own is None:
        return _beside_side(_labels(reading)) if spot_roles(label) else over
    return over if over is not None and narrowest((own, over)) == (over,) else own


def _beside_side(labels: Sequence[str]) -> str | None:
    """Return the role that one label names where another names the side: "N" in the rows of "Load side" is neutral."""
    roles = {role_of_label(text) for text in labels} - {None, "line_in", "load_out"}
    return roles.pop() if len(labels) > 1 and len(roles) == 1 else None


def _only_role(lines: Sequence[str]) -> str | None:
    found = narrowest(match.concept for line in lines[-1:] for match in spot_roles(line))
    return found[0] if len(found) == 1 else None


def find_purpose(reading: Reading, label: str) -> str:
    """Return the purpose of the screw; terminals are taken for what they are unless words say otherwise."""
    near = [label, *(entry.heading for entry in reading.entries if entry.field.startswith("torque"))]
    near += [text_of(entry.cell) for entry in reading.entries if entry.field == "purpose"]
    over = [entry.heading for entry in reading.entries if entry.field in ("terminal", "thread")]
    for lines in (near, over, reading.context[-1:]):
        found = {concept for line in lines for concept in _purposes(line)}
        if "electrical_terminal" in found:
            return "electrical_terminal"
        if found:
            return sorted(found)[0]
        if spot_roles(label) or make_sense(label).has("terminal"):
            return "electrical_terminal"  # a line above about mounting the device does not make its terminals so
    return "electrical_terminal"


def _purposes(line: str) -> set[str]:
    """Return the purposes that a line names; a word inside the name of a terminal or of a torque is none.

    "Frame earth" is a terminal, though a frame is an enclosure; Spanish "par de fijación" is any tightening torque.
    """
    names = [*spot_roles(line), *(m for m in spot("heading", line) if m.concept.startswith("torque"))]
    return {
        match.concept
        for match in spot("purpose", line)
        if not any(n.start <= match.start and match.end <= n.end and len(n.printed) > len(match.printed) for n in names)
    }


def name_device(reading: Reading, title: str, headlines: Sequence[str] = ()) -> Device:
    """Return the device as its cells, the lines above, the head of the sheet or its title name it."""
    model = _text(reading, "model")
    series = _text(reading, "series")
    said = _text(reading, "device") or ""
    own = " ".join(text for text in dict.fromkeys(("" if is_length(said) else said, model or series)) if text)
    over = [entry.heading for entry in reading.entries if entry.field == "qualifier" and _is_device(entry.heading)]
    lines = [*over, *reversed(reading.context), *headlines]
    named = [line.strip() for line in lines if names_family(line) and not states_torque(line)]
    if find_types(title or next(iter(headlines), "")):
        named = [line for line in named if not names_part(line)]
    # Running text speaks of devices too: it names this one if it bears a type or nothing else names any.
    line = next((line for line in named if not is_prose(line) or find_types(line)), next(iter(named), ""))
    printed = join_lines(part for part in dict.fromkeys((own, line or _first_line(reading, title, headlines))) if part)
    families = _texts(reading, "family", "device")
    labels = _texts(reading, "terminal")  # "Earth bar EB9" names the device and its terminals alike
    return Device(
        printed=printed,
        maker=_text(reading, "maker"),
        family=_first("family", [*families, line, *reading.context, own, title, *headlines, *labels]),
        series=series,
        model=model,
        rated_current=_text(reading, "rated_current"),
    )


def device_doubts(reading: Reading) -> Iterator[Doubt]:
    """Yield a doubt where a heading over the column and a line over the row name two devices."""
    over = next((e.heading for e in reading.entries if e.field == "qualifier" and _is_device(e.heading)), "")
    line = reading.context[-1] if reading.context else ""
    if not over or not names_family(line) or states_torque(line):
        return
    types = [find_types(text) for text in (over, line)]
    if all(types) and not types[0] & types[1]:
        message = f"{over!r} stands over the column and {line.strip()!r} over the row; look which device the row is for"
        yield Doubt(code="readings_differ", message=message)


def _first_line(reading: Reading, title: str, headlines: Sequence[str]) -> str:
    """The title often names the maker alone; the next line that is no heading of a table names the device."""
    lines = (line for line in (*reading.context, *headlines) if not is_step(line))
    for line in lines:
        about = make_sense(line).has("torque", "terminal", "conductor") and not designates(line)
        if line.strip() != title.strip() and not about and not states_torque(line) and not is_prose(line):
            typed = find_types(title) and not find_types(line) and not make_sense(title).has("torque", "conductor")
            return title if typed else whole_title(line.strip(), title)
    # Without a title over the whole, a line that names something beside its torques is better than no name.
    named = (line.strip() for line in reversed(reading.context) if make_sense(line).rest and not states_torque(line))
    return title or next(named, "")


def _thread(reading: Reading) -> str | None:
    """Return the thread as printed, without the drive of its screw where the cell gives both."""
    texts = [cut_thread(text) for text in _texts(reading, "thread")]
    return " / ".join(dict.fromkeys(texts)) or None


def _drives(reading: Reading) -> tuple[Drive, ...]:
    found: dict[Drive, None] = {}
    for entry in reading.entries:
        if entry.field in ("drive", "bit", "thread"):
            found |= dict.fromkeys(read_drive(entry.cell.text, heading=entry.heading))
    return tuple(found)


def _texts(reading: Reading, *fields: str) -> list[str]:
    return [text_of(entry.cell) for entry in reading.entries if entry.field in fields]


def _text(reading: Reading, field: str) -> str | None:
    return " / ".join(dict.fromkeys(_texts(reading, field))) or None


def _first(kind: Kind, texts: Sequence[str]) -> str | None:
    """Return the one concept that the first telling text names; None when it names several."""
    boards: dict[str, None] = {}
    for text in texts:
        found = dict.fromkeys(match.concept for match in spot(kind, text))
        if kind == "family":
            boards |= {concept: None for concept in found if concept in BOARDS}
            found = {concept: None for concept in found if concept not in BOARDS}
        if found:
            return next(iter(found)) if len(found) == 1 else None
    return next(iter(boards)) if len(boards) == 1 else None
