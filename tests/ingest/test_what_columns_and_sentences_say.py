"""What print beside figures says: kinds in columns and legends, copper in sentences, names run in, rows of a page."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas
from text_sheets import settings_of

from torquary_ingest.lexis.threads import is_thread
from torquary_ingest.reader import read_sheet
from torquary_ingest.scope import read_statement
from torquary_schema.roles import spot_roles
from torquary_schema.values import Setting


def released(found: list[Setting]) -> dict[str, Setting]:
    return {one.terminal.printed: one for one in found if one.state == "released"}


SAYS_COPPER = (
    "Use tinned copper cable with closed ends.",
    "Connect the copper cables as shown.",
    "Collegare i cavi di rame come in figura.",
    "N'utiliser que des conducteurs en cuivre, 75 °C.",
    "Copper conductors only; aluminium on request.",
    "Values are valid for copper conductors, at 20 °C.",
    "Use copper conductors for 70 °C or more.",
    "電線は銅線を使用し、定格温度75 ℃以上のものを選んでください。",
)
SAYS_NOTHING = (
    "Aluminium conductors are allowed in the main switch only.",
    "Copper conductors, if the room is dry",
    "Copper conductors from 16 mm² on",
    "The bars are made of copper.",
)


@pytest.mark.parametrize("text", SAYS_COPPER)
def test_a_sentence_about_copper_conductors_says_copper(text: str) -> None:
    found = read_statement(text)
    assert found is not None
    assert found.material == ("copper",)


@pytest.mark.parametrize("text", SAYS_NOTHING)
def test_what_may_be_a_condition_says_nothing_for_all(text: str) -> None:
    found = read_statement(text)
    assert found is None or not found.material


def test_a_kind_beside_a_second_one_that_is_not_read_is_not_taken() -> None:
    found = read_statement("Stranded conductors; flexible ones with ferrule one size less.")
    assert found is None or not found.stranding


def test_copper_holds_overleaf_unless_another_metal_is_spoken_of(tmp_path: Path) -> None:
    said = {"Use copper conductors only.": ("copper",), "Copper and aluminium conductors are allowed.": ()}
    rows = (("Coil A1, A2", "1", "0.5"), ("Terminals L, N", "0.5–4", "0.8"))
    for text, metal in said.items():
        path = tmp_path / f"{len(text)}.pdf"
        canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
        for row, under in zip(rows, (text, ""), strict=True):
            canvas.setFont("Helvetica-Bold", 14)
            canvas.drawString(50, 790, "Time relay QT 4")
            canvas.setFont("Helvetica", 9)
            canvas.drawString(50, 400, under)
            for y, cells in ((700, ("Terminal", "mm²", "Torque Nm")), (680, row)):
                for x, cell in zip((50, 200, 300), cells, strict=True):
                    canvas.drawString(x, y, cell)
            canvas.showPage()
        canvas.save()
        overleaf = [one for one in read_sheet(path).settings if one.place.page == 2]
        assert {one.conductor.material for one in overleaf} == {metal}


def test_a_statement_about_one_clamp_speaks_for_it_alone(tmp_path: Path) -> None:
    rows = "Fuse switches QF 1;;\n;;\nTerminal;mm²;Torque Nm\nBox terminal L1;6–50;4\nStud M8 N;16–95;12\n"
    found = released(settings_of(tmp_path / "t.csv", rows + "\nBox terminals are for copper conductors only.\n"))
    assert found["Box terminal L1"].conductor.material == ("copper",)
    assert [one.conductor.material for name, one in found.items() if "Stud" in name] == [()]


def test_a_legend_explains_the_letters_of_a_heading(tmp_path: Path) -> None:
    rows = "Main switch QH 63;;;;\n;;;;\nTerminal;re/rm mm²;f mm²;Torque Nm\nTop terminals;1–25;1–16;2.5\n"
    rows += "Bottom terminals;1–25;1–16;2.5\n\nre = solid, rm = stranded, f = flexible without ferrule\n"
    kinds = {(one.conductor.stranding, one.conductor.ferrule) for one in settings_of(tmp_path / "t.csv", rows)}
    assert kinds == {(("solid", "stranded"), None), (("flexible",), False)}


def test_a_column_of_kinds_is_no_column_of_sizes(tmp_path: Path) -> None:
    rows = "Distribution blocks QD;;;;;\n;;;;;\nBlock;Connection;Conductor;Min. mm²;Max. mm²;Al;Torque N·m\n"
    rows += "QD-080;Line side;solid or stranded;6;16;no;2.5\nQD-080;Load side;flexible with ferrule;4;10;no;2\n"
    rows += "QD-250;Line side;stranded;35;120;yes;19\nQD-250;Load side;copper bar 20 × 5;;;no;12\n"
    rows += "QD-250;Bridge;solid, cut at both ends;6;16;no;3\n"
    every = settings_of(tmp_path / "t.csv", rows)
    for torque in ("12", "3"):
        [unread] = [one for one in every if one.torque.printed == torque]
        assert "condition_unread" in {finding.code for finding in unread.findings}
    found = [one for one in every if one.state == "released"]
    told = {(one.device.model, one.terminal.printed): one.conductor for one in found}
    assert told["QD-080", "Line side"].stranding == ("solid", "stranded")
    assert told["QD-080", "Load side"].ferrule is True
    assert told["QD-080", "Line side"].material == ("copper",)
    assert told["QD-250", "Line side"].material == ()


def test_yes_and_no_answer_for_the_heading(tmp_path: Path) -> None:
    rows = "Meter QM 1;;;;\n;;;;\nTerminal;mm²;Ferrule;Torque Nm;Screw\n"
    rows += "L, N;1.5–6;yes;1.2;PZ1\nS0, S1;0.5–2.5;no;0.4;slot\n"
    found = released(settings_of(tmp_path / "t.csv", rows))
    assert {name: one.conductor.ferrule for name, one in found.items()} == {"L, N": True, "S0, S1": False}


def test_a_torque_ten_times_that_of_other_rows_of_the_size_holds(tmp_path: Path) -> None:
    rows = "Relays QR;;;\n;;;\nType;Terminal;mm²;Torque Nm\nQR 1;L1, L2, L3;0.5–2.5;0.5\nQR 1;11-12-14;0.5–2.5;0.5\n"
    rows += "QR 2;A1, A2;0.5–2.5;5\n"
    found = settings_of(tmp_path / "t.csv", rows)
    assert {one.terminal.printed: one.state for one in found} == {
        "L1, L2, L3": "released",
        "11-12-14": "released",
        "A1, A2": "held",
    }


PAGE = """<html><head><meta charset="utf-8"><title>Contactors QK</title><style>
.r{{display:grid;grid-template-columns:2fr 1fr 1fr}}</style></head><body><h1>Contactors QK</h1><p>Published in May.</p>
<div class="r"><div>Terminal</div><div>mm²</div><div>Torque Nm</div></div>{rows}<p>Tighten with care.</p>
</body></html>"""


def test_rows_that_are_grids_of_their_own_are_one_table(tmp_path: Path) -> None:
    cells = (("Main terminals L1–T3", "1–6", "1.2"), ("Coil A1, A2", "0.75–2.5", "0.8"))
    rows = "".join(f'<div class="r">{"".join(f"<div>{cell}</div>" for cell in row)}</div>' for row in cells)
    found = released(settings_of(tmp_path / "t.html", PAGE.format(rows=rows)))
    assert {name: str(one.torque.max_nm) for name, one in found.items()} == {
        "Main terminals L1–T3": "1.2",
        "Coil A1, A2": "0.8",
    }


def draw_run_in(path: Path) -> Path:
    """Draw properties whose bold names run in before values of several lines, under a product and a part of it."""
    lists = {
        "QX-40": (
            ("Power terminals 1–8:", ("rigid 2.5–16 mm²;", "torque 2 N·m; cross PZ2")),
            ("Neutral terminals:", ("stud M8, cable lug", "16–70 mm²; torque 12 N·m")),
        ),
        "Motor drive QX-MD": (("Terminals L, N, PE:", ("0.5–2.5 mm²;", "torque 0.6 N·m")),),
    }
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica-Bold", 17)
    canvas.drawString(40, 800, "Transfer switches QX")
    for at, (title, listed) in enumerate(lists.items()):
        left, y = 40 + 260 * at, 760
        canvas.setFont("Helvetica-Bold", 11)
        canvas.drawString(left, y, title)
        for name, value in listed:
            y -= 14
            canvas.setFont("Helvetica-Bold", 9)
            canvas.drawString(left, y, name)
            wide = canvas.stringWidth(f"{name} ", "Helvetica-Bold", 9)
            canvas.setFont("Helvetica", 9)
            canvas.drawString(left + wide, y, value[0])
            for line in value[1:]:
                y -= 12
                canvas.drawString(left, y, line)
    canvas.save()
    return path


def test_a_name_run_in_before_its_value_names_the_terminal(tmp_path: Path) -> None:
    found = read_sheet(draw_run_in(tmp_path / "t.pdf")).settings
    told = {(one.device.printed, one.terminal.printed, one.torque.printed) for one in found if one.state == "released"}
    assert {(device, name, torque) for device, name, torque in told if "Power" in name} == {
        ("QX-40", "Power terminals 1–8", "2 N·m")
    }
    assert {device for device, name, _ in told if name.startswith("Terminals L")} == {"Motor drive QX-MD"}
    assert not any("lug" in name for _, name, _ in told)


def test_the_number_of_a_step_parts_it_from_the_one_before(tmp_path: Path) -> None:
    path = tmp_path / "t.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica-Bold", 14)
    canvas.drawString(50, 790, "Soft starter QS")
    canvas.setFont("Helvetica", 10)
    steps = (
        "On frames A and B tighten the earth terminal PE to 4 N·m.",
        "Tighten the control terminals A1 and A2 to 0.5 N·m.",
        "Tighten the relay terminals 13 and 14 to 0.6 N·m.",
    )
    for number, step in enumerate(steps, start=1):
        canvas.drawString(50, 760 - 14 * number, f"{number}.")
        canvas.drawString(80, 760 - 14 * number, step)
    canvas.save()
    found = {one.torque.printed: one for one in read_sheet(path).settings}
    assert "frame" not in found["0.5 N·m"].device.printed.casefold()
    assert found["0.5 N·m"].terminal.printed == "control terminals A1 and A2"


def test_a_note_on_one_of_the_types_holds_its_row_alone(tmp_path: Path) -> None:
    rows = "Soft starters QS;;;\n;;;\nType;Terminal;mm²;Torque Nm\nQS 12, QS 18;Power terminals;1.5–16;1.7\n"
    rows += "QS 75, QS 110;Power terminals;16–95;8\n\n"
    rows += "On QS 110 the tightening torque of the power terminals is 10 N·m.\n"
    states = {one.torque.printed: one.state for one in settings_of(tmp_path / "t.csv", rows)}
    assert (states["1.7"], states["8"]) == ("released", "held")


def test_letters_that_are_no_markings_and_threads_in_other_letters() -> None:
    assert not spot_roles("N'utiliser que du cuivre")
    assert is_thread("М8")  # Cyrillic
