"""Whatever a profile says, a figure whose unit is printed is released as printed, held, or named; never lost."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import example, given, settings
from hypothesis import strategies as st
from profile_files import HEAD, read, write

from torquary_ingest.profiles import ProfileWrong, read_profile
from torquary_ingest.profiles.listing import means
from torquary_schema.values import SheetReport

UNITS = ("", "", "N·m", "lb·in", "cN·m", "mm²", "AWG")
WORDS = ("Kx", "Qx", "Mz.", "Foo")
SAID = st.dictionaries(st.sampled_from(WORDS), st.tuples(st.sampled_from(means()), st.sampled_from(UNITS)), min_size=1)

# Terminal, size in mm² and torque in N·m of each row, and what stands in a column of no meaning.
ROWS = (("L1", "1,5-6", "2,5", "16"), ("N", "1,5-10", "2,0", "25"), ("PE", "2,5-16", "3,0", "40"))
TRUTH = {(terminal, size): Decimal(torque.replace(",", ".")) for terminal, size, torque, _ in ROWS}

RIGHT = {"Kx": ("terminal", ""), "Qx": ("conductor", "mm²"), "Mz.": ("torque", "N·m")}

PRINTED = {
    "in the headings": "Kx;Qx mm²;Mz. N·m;Foo\n" + "".join(";".join(row) + "\n" for row in ROWS),
    "in the cells": "Kx;Qx;Mz.;Foo\n" + "".join(f"{a};{b} mm²;{c} N·m;{d}\n" for a, b, c, d in ROWS),
    "in a row": "Kx;Qx;Mz.;Foo\n;mm²;N·m;\n" + "".join(";".join(row) + "\n" for row in ROWS),
    "across": "Kx;L1;N;PE\nQx mm²;1,5-6;1,5-10;2,5-16\nMz. N·m;2,5;2,0;3,0\nFoo;16;25;40\n",
}


def read_with(text: str, said: dict[str, tuple[str, str]]) -> SheetReport | None:
    """The report of the sheet read with a profile; None when the profile is refused."""
    with TemporaryDirectory() as place:
        folder = Path(place)
        path = write(folder, *((word, *told) for word, told in said.items()))
        try:
            profile = read_profile(path)
        except ProfileWrong:
            return None
        return read(folder, HEAD + text, profile)


@settings(max_examples=150, deadline=None)
@given(place=st.sampled_from(sorted(PRINTED)), said=SAID)
@example(place="in the headings", said={"Kx": ("conductor", ""), "Qx": ("terminal", "")})
@example(place="in the headings", said={"Qx": ("torque", ""), "Mz.": ("conductor", "")})
@example(place="across", said={"Foo": ("conductor", "mm²")})
@example(place="across", said={"Qx": ("conductor", ""), "Foo": ("conductor", "mm²")})
@example(
    place="across",
    said={"Mz.": ("conductor_max", "mm²"), "Foo": ("torque_min", "N·m"), "Kx": ("conductor", "mm²")},
)
@example(place="in the cells", said={"Qx": ("conductor", ""), "Foo": ("conductor", "mm²")})
@example(place="in the cells", said={"Foo": ("torque", "N·m")})
@example(place="in a row", said={"Foo": ("torque_max", "N·m"), "Mz.": ("torque_min", "")})
def test_a_figure_with_its_unit_is_never_another(place: str, said: dict[str, tuple[str, str]]) -> None:
    report = read_with(PRINTED[place], said)
    if report is None:
        return
    for one in report.settings:
        if one.state != "released":
            continue
        assert one.torque is not None
        row = next(row for row in ROWS if row[2] in one.torque.printed)
        nm = TRUTH[row[0], row[1]]
        # A person may well say that a column gives one side only; the value is the printed one.
        assert {one.torque.min_nm, one.torque.max_nm, one.torque.limit_nm} - {None} == {nm}, one
        assert one.conductor.max_mm2 in (None, Decimal(row[1].split("-")[1].replace(",", "."))), one
    told = [one.torque.printed for one in report.settings if one.torque is not None]
    told += [finding.printed for finding in report.findings]
    # Where the profile makes another figure the lowest torque, the reason for holding names both.
    told += [finding.message for one in report.settings if one.state == "held" for finding in one.findings]
    assert all(row[2] in " ".join(told) for row in ROWS), report.findings


def test_the_right_explanation_releases_every_row() -> None:
    report = read_with("Kx;Qx;Mz.;Foo\n" + "".join(";".join(row) + "\n" for row in ROWS), RIGHT)
    assert report is not None
    assert [s.state for s in report.settings] == ["released"] * len(ROWS)


@settings(max_examples=150, deadline=None)
@given(said=SAID)
@example(said=RIGHT)
def test_a_bare_figure_bears_the_remark_of_the_profile(said: dict[str, tuple[str, str]]) -> None:
    """Without a unit in print a person's word decides; every figure released says whose word it is."""
    report = read_with("Kx;Qx;Mz.;Foo\n" + "".join(";".join(row) + "\n" for row in ROWS), said)
    for one in report.settings if report is not None else ():
        if one.state == "released":
            assert any(f.code == "heading_taught" and "states" in f.message for f in one.findings)
