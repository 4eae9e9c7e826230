"""One size that two cells print in two ways, with its unit and without, is one value and one choice."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from lacking_readings import lacking, run
from lacking_readings import put as put_readings
from office import Office
from sheets_by_hand import mm2, report, setting, torque

from torquary_catalogue.find import find, read_question
from torquary_catalogue.find.choices import list_choices
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report
from torquary_schema.values import Beside, Conductor

SHEET = (
    "<html><head><title>Main switch QS 63</title></head><body><h1>Main switch QS 63</h1><table><tr><th>Terminal</th>"
    "<th>Conductor mm²</th><th>Tightening torque N·m</th></tr>{}</table></body></html>"
)
ROW = "<tr><td>L1</td><td>{}</td><td>{}</td></tr>"


def put(office: Office, name: str, *rows: tuple[str, str]) -> None:
    (office.sheets / name).write_text(SHEET.format("".join(ROW.format(*row) for row in rows)), "utf-8")


def test_two_sheets_that_print_one_size_in_two_ways(tmp_path: Path) -> None:
    office = Office(tmp_path)
    put(office, "one.html", ("4", "2.5"), ("10", "3"))
    put(office, "two.html", ("4 mm²", "2.8"), ("10 mm2", "3"))
    office.load()
    answer = office.ask("find", "QS 63 L1")
    told = {one["aspect"]: one["values"] for one in answer["differences"]}
    assert told["conductor"] == ["4 mm²", "10 mm²"]


def sized(printed: str, low: str | None, high: str | None) -> Conductor:
    sizes: dict[str, Any] = {name: getattr(mm2(low, high), name) for name in ("min_mm2", "max_mm2")}
    return Conductor(printed=printed, system="mm2", **sizes)


@pytest.mark.parametrize(
    ("first", "second", "names"),
    [
        (("4", "4", "4"), ("4 mm²", "4", "4"), ["4 mm²"]),
        (("4,0", "4.0", "4.0"), ("4mm2", "4", "4"), ["4 mm²"]),
        (("1,5 - 6", "1.5", "6"), ("1.5…6 mm²", "1.5", "6"), ["1.5–6 mm²"]),
        (("4", "4", "4"), ("≤ 4 mm²", None, "4"), ["4 mm²", "≤ 4 mm²"]),
        (("4", "4", "4"), ("6 mm²", "6", "6"), ["4 mm²", "6 mm²"]),
        (("4 flexible", "4", "4"), ("4 mm²", "4", "4"), ["4 flexible", "4 mm²"]),
        (("2 x 4", "4", "4"), ("4 mm²", "4", "4"), ["2 x 4", "4 mm²"]),
    ],
)
def test_a_size_is_named_once(catalogue: Catalogue, first: Any, second: Any, names: list[str]) -> None:
    rows = [
        setting(f"row-{at}", conductor=sized(*one), torque=torque(*[f"{at}.5"] * 3))
        for at, one in enumerate((first, second))
    ]
    load_report(catalogue, report(*rows))
    answer = find(catalogue, read_question(catalogue, "BK-16 outgoing"))
    told = {one.aspect: [*one.values] for one in answer.differences}
    assert told.get("conductor", names) == names
    nameless = [replace(row, terminal_printed="") for row in answer.rows]
    choices = [one.name for one in list_choices(nameless) if one.what == "conductor"]
    assert sorted(choices) == (sorted(names) if len(names) > 1 else [])


@pytest.mark.parametrize(
    ("heading", "shown"),
    [("Leiter", "4 mm² | 6 | 10 mm²"), ("Leiter mm²", "4 mm² | 6 | 10 mm²"), ("AWG", "4 | 4 mm² | 6 | …")],
)
def test_a_column_of_the_office_s_question_shows_a_size_once(tmp_path: Path, heading: str, shown: str) -> None:
    """Under a heading for gauges a 4 and 4 mm² are two sizes."""
    rows = [
        lacking(at, "device", beside=(Beside(heading=heading, text=text),))
        for at, text in enumerate(("4", "4 mm²", "6", "10 mm²", "10"), 1)
    ]
    catalogue = put_readings(tmp_path / "harbour.duckdb", *rows)
    assert f"    each row prints under “{heading}”: {shown}" in run(catalogue, "held").stdout.splitlines()
    run(catalogue, "held", "--pictures", str(tmp_path / "page"))
    page = (tmp_path / "page" / "held.html").read_text("utf-8")
    assert f"{heading}: {shown.replace(' | ', ', ').replace(', …', ' …')}</option>" in page
