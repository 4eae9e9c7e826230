"""A board list: each row becomes terminals, or is named by row and column and the others go on."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from openpyxl import Workbook, load_workbook

from torquary_catalogue.board.board_list import read_board_list
from torquary_catalogue.board.listed import BoardList
from torquary_catalogue.command import main
from torquary_catalogue.errors import TorquaryError

HEAD = "board,row,way,mark,device,terminal,screws,conductor,conductors,stranding,joint"


def read(
    folder: Path, *rows: str, head: str = HEAD, name: str = "list.csv", encoding: str = "utf-8"
) -> BoardList:
    path = folder / name
    path.write_text("\n".join((head, *rows)) + "\n", encoding)
    return read_board_list(path)


def faults(read_list: BoardList) -> list[str]:
    return [fault.text for fault in read_list.faults]


def test_a_row_is_a_screw_for_each_terminal_and_each_that_is_alike(tmp_path: Path) -> None:
    found = read(
        tmp_path,
        "B7,1,2,F2,HT6,line 1; line 3,,10 mm2,,,",
        "B7,2,1,X1,EB9,earth,3,4 mm2,2,solid,factory",
    )
    assert faults(found) == []
    assert [one.name for one in found.terminals] == [
        "1.2 F2 | line 1",
        "1.2 F2 | line 3",
        "2.1 X1 | earth, screw 1",
        "2.1 X1 | earth, screw 2",
        "2.1 X1 | earth, screw 3",
    ]
    last = found.terminals[-1]
    assert (last.conductor, last.conductors, last.stranding, last.joint, last.at) == (
        "4 mm2",
        2,
        "solid",
        "factory",
        3,
    )


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("B7,1,x,F2,HT6,line,,,,,", "row 3, column way: 'x' is no whole number from 1 to 999"),
        ("B7,1,2,F2,HT6,line,0,,,,", "row 3, column screws: '0' is no whole number from 1 to 200"),
        ("B7,1,2,F2,,line,,,,,", "row 3, column device: is empty"),
        ("B7,1,2,F2,HT6,,,,,,", "row 3, column terminal: is empty"),
        (",1,2,F2,HT6,line,,,,,", "row 3, column board: is empty, while other rows name a board"),
        (
            "B7,1,2,F2,HT6,line,,,,woven,",
            "column stranding: 'woven' is not known: write one of solid, stranded",
        ),
        (
            "B7,1,2,F2,HT6,line,,,,,glued",
            "column joint: 'glued' is not known: write one of site, factory, spare",
        ),
        (
            "B7,1,1,F1,HT6,line,,,,,",
            "row 3, column terminal: two terminals alike: row 2 has it too",
        ),
        ("B7,1,2,F2,HT6,line; LINE,,,,,", "two terminals alike: it stands twice in the row"),
        ("B7,1,2,F2,HT6,line,,,,,,,,x", "row 3: has more cells than there are headings"),
    ],
)
def test_a_bad_row_is_named_by_row_and_column_and_the_others_are_read(
    tmp_path: Path, row: str, said: str
) -> None:
    found = read(tmp_path, "B7,1,1,F1,HT6,line,,,,,", row, "B7,1,3,F3,HT6,line,,,,,")
    assert [one.at for one in found.terminals] == [2, 4]
    assert len(found.faults) == 1
    assert said in found.faults[0].text


def test_a_spare_way_needs_no_device(tmp_path: Path) -> None:
    found = read(tmp_path, "B7,1,1,,,,,,,,spare", "B7,1,2,,,,,,,,spring")
    assert [(one.name, one.joint) for one in found.terminals] == [
        ("1.1", "spare"),
        ("1.2", "spring"),
    ]


@pytest.mark.parametrize(
    ("head", "row"),
    [
        ("Verteiler;Reihe;Platz;Gerät;Klemme;Querschnitt", "B7;1;2;HT6;+;10 mm2"),
        ("tableau\trangée\templacement\tappareil\tborne\tsection", "B7\t1\t2\tHT6\t+\t10 mm2"),
        ("# a note; with, marks\n\nBoard|Row|Way|Device|Terminal|Size", "B7|1|2|HT6|+|10 mm2"),
    ],
)
def test_headings_in_other_languages_delimiters_and_notes(
    tmp_path: Path, head: str, row: str
) -> None:
    found = read(tmp_path, row, head=head, encoding="utf-16")
    (one,) = found.terminals
    assert (one.place.row, one.place.way, one.device, one.terminal, one.conductor) == (
        1,
        2,
        "HT6",
        "+",
        "10 mm2",
    )
    assert faults(found) == []


def test_a_heading_that_is_not_known_is_said_and_can_be_explained(tmp_path: Path) -> None:
    found = read(tmp_path, "HT6,line,red", head="device,terminal,Farbe")
    assert faults(found) == [
        "row 1, column Farbe: heading is not known; its column was not used: explain it with --heading 'Farbe=KEY'"
    ]
    path = tmp_path / "own.csv"
    path.write_text("Ding,Punkt\nHT6,line\n")
    with pytest.raises(
        TorquaryError, match=r"row 1 has no heading for device and terminal \(Ding \| Punkt\)"
    ):
        read_board_list(path)
    (one,) = read_board_list(path, {"ding": "device", "punkt": "terminal"}).terminals
    assert (one.board, one.device, one.terminal) == ("own", "HT6", "line")


def test_the_same_column_twice_is_said(tmp_path: Path) -> None:
    found = read(tmp_path, "HT6,line,load", head="device,terminal,Klemme")
    assert faults(found) == [
        "row 1, column Klemme: the same column stands twice; the first was used"
    ]
    assert [one.terminal for one in found.terminals] == ["line"]


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("none.csv", None, "there is no such file"),
        ("empty.csv", "", "has no bytes|the list is empty|has no text"),
        ("notes.csv", "# only\n# notes\n", "the list is empty"),
        ("list.pdf", "x", "a board list is one of"),
    ],
)
def test_a_file_that_is_no_list_is_refused_in_one_line(
    tmp_path: Path, name: str, text: str | None, said: str
) -> None:
    if text is not None:
        (tmp_path / name).write_text(text)
    with pytest.raises(TorquaryError, match=said):
        read_board_list(tmp_path / name)


def test_quotes_that_do_not_pair_up_are_said(tmp_path: Path) -> None:
    found = read(tmp_path, '"HT6,line', "HT7,load", head="device,terminal")
    assert "quotes do not pair up" in faults(found)[0]


def test_ten_thousand_rows_are_read_and_the_bad_one_named(tmp_path: Path) -> None:
    rows = [f"B7,{at // 900 + 1},{at % 900 + 1},F{at},HT6,line,,,,," for at in range(10_000)]
    rows[7_000] = rows[7_000].replace(",line,", ",,")
    found = read(tmp_path, *rows)
    assert len(found.terminals) == 9_999
    assert faults(found) == ["row 7002, column terminal: is empty"]


def test_an_empty_list_is_written_explained_and_read_when_it_is_filled_in(tmp_path: Path) -> None:
    path = tmp_path / "b7.csv"
    CliRunner().invoke(main, ["board", "new", str(path)], catch_exceptions=False)
    assert "# conductor: Size of the conductor" in path.read_text("utf-8-sig")
    assert read_board_list(path).terminals == ()
    with path.open("a") as file:
        file.write("B7,1,2,F2,,HT6,line,,10 mm2,,,,,,\n")
    assert [one.name for one in read_board_list(path).terminals] == ["1.2 F2 | line"]
    done = CliRunner().invoke(main, ["board", "new", str(path)])
    assert (done.exit_code, "is there already" in done.output) == (2, True)
    assert CliRunner().invoke(main, ["board", "new", str(tmp_path / "b7.doc")]).exit_code == 2


def test_a_new_workbook_has_drop_downs_and_is_read_when_it_is_filled_in(tmp_path: Path) -> None:
    path = tmp_path / "b7.xlsx"
    CliRunner().invoke(main, ["board", "new", str(path)], catch_exceptions=False)
    book = load_workbook(path)
    sheet = book["Board"]
    headings = [cell.value for cell in sheet[1]]
    lists = {drop.formula1 for drop in sheet.data_validations.dataValidation}
    assert '"site,factory,spare,spring"' in lists
    assert book["Columns"]["A2"].value == "board"
    filled = {
        "board": "B7",
        "row": 1,
        "way": 2,
        "mark": "F2",
        "device": "HT6",
        "terminal": "line",
        "joint": "site",
    }
    for at, heading in enumerate(headings, start=1):
        sheet.cell(row=3, column=at, value=filled.get(str(heading)))
        sheet.cell(row=4, column=at, value={**filled, "joint": "glued"}.get(str(heading)))
    book.save(path)
    found = read_board_list(path)
    assert [(one.name, one.at) for one in found.terminals] == [("1.2 F2 | line", 3)]
    assert [(fault.row, fault.column) for fault in found.faults] == [(4, "joint")]


def test_the_worksheet_with_the_headings_of_a_list_is_taken(tmp_path: Path) -> None:
    book = Workbook()
    book.worksheets[0].append(["Notes", "of the office"])
    sheet = book.create_sheet("B7")
    sheet.append(["Device", "Terminal"])
    sheet.append(["HT6", "line"])
    book.save(tmp_path / "two.xlsx")
    assert [one.device for one in read_board_list(tmp_path / "two.xlsx").terminals] == ["HT6"]
