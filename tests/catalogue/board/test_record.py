"""The record of the work: from a filled table, the page's file or the command line; corrected,
compared, recalled.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from datetime import date
from functools import reduce
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from boards_by_hand import listed
from office import WHO, Office

from torquary_catalogue.board.history import Visit, Work, compare_visits, read_state
from torquary_catalogue.board.record import Entry, find_faults
from torquary_catalogue.board.record_plan import look_up
from torquary_catalogue.errors import TorquaryError
from torquary_schema.forms import line_of

DAY = "2026-05-02"
LIST = "board,row,way,mark,device,terminal\nB7,1,1,F1,QB 16,L1\nB7,1,2,F2,QB 16,N\nB7,1,3,F3,QB 16,L1\n"
NUMBER = "Document no. QH-10641"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Office:
    """An office with one sheet, and the plan of a board as table, form and page."""
    office = Office(tmp_path_factory.mktemp("office"))
    office.put("qb.html", "Breaker QB 16", f"{NUMBER} Edition 3", L1="2.5", N="2.0")
    office.load()
    (office.folder / "list.csv").write_text(LIST)
    targets = [
        word for kind in ("csv", "json", "html") for word in ("-o", office.folder / f"plan.{kind}")
    ]
    office.run("plan", office.folder / "list.csv", "--on", DAY, *targets, status=0)
    return office


@pytest.fixture
def office(made: Office, tmp_path: Path) -> Office:
    """The same office, its catalogue and files copied."""
    copy = Office(tmp_path)
    for path in made.folder.iterdir():
        if path.is_file():
            (tmp_path / path.name).write_bytes(path.read_bytes())
    return copy


def fill(office: Office, *rows: dict[str, str], name: str = "filled.csv") -> Path:
    """Fill in the rows of the plan's table, one after the other."""
    with (office.folder / "plan.csv").open(encoding="utf-8-sig", newline="") as file:
        table = list(csv.DictReader(file))
    for row, given in zip(table, rows, strict=False):
        row.update(given)
    path = office.folder / name
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        writer = csv.DictWriter(file, table[0].keys())
        writer.writeheader()
        writer.writerows(table)
    return path


def done(found: str = "as set", **more: str) -> dict[str, str]:
    return {"found": found, "done": "yes", "who": "Ines", "when": DAY, **more}


def take(office: Office, path: Path, *more: str, status: int = 0) -> str:
    return office.run("board", "take", path, "--on", "2027-05-03", *more, status=status).output


def history(office: Office, *more: str) -> Any:
    return office.ask("board", "history", *more)


def test_a_filled_table_is_taken_once_and_a_correction_is_added(office: Office) -> None:
    filled = fill(office, done("loose", photo="f1.jpg", remark="wire moved"), done("too tight"))
    assert take(office, filled) == "added: 2, of these corrections: 0; there already: 0\n"
    assert take(office, filled) == "added: 0, of these corrections: 0; there already: 2\n"
    mended = fill(office, done("as set"), done("over-tight"))
    assert take(office, mended) == "added: 1, of these corrections: 1; there already: 1\n"
    (visit,) = history(office)["visits"]
    first, second = visit["terminals"]
    assert (visit["board"], visit["day"], first["terminal"], first["found"]) == (
        "B7",
        DAY,
        "1.1 F1 | L1",
        "as_set",
    )
    assert (first["corrects"], second["corrects"], second["found"], second["set_nm"]) == (
        [1],
        [],
        "over_tight",
        2.5,
    )
    told = office.run("board", "history", "b7").output
    assert told.splitlines()[0] == f"B7, visit of {DAY}: 2 terminals: 1 as set, 1 over-tight; 2 set"
    assert "1.3 F3 | L1: found over-tight, set to 2.5 N·m, Ines, 2026-05-02" in told


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (
            done(found="wobbly"),
            "row 2, column found: 'wobbly' is none of loose, as set, over-tight, not checked",
        ),
        (done(done="perhaps"), "row 2, column done: 'perhaps' is neither yes nor no"),
        (done(when="2027-09-01"), "row 2, column when: 2027-09-01 lies in the future"),
        (done(when="May"), "row 2, column when: 'May' is no day"),
        (done(found=""), "row 2, column found: is not checked, and yet it is done"),
        (done(calibrated="2030-01-01"), "row 2, column calibrated: 2030-01-01 lies in the future"),
        (done(set_nm="much"), "row 2, column set_nm: 'much' is no torque"),
        ({}, "no row says what was found"),
    ],
)
def test_a_table_with_a_fault_is_named_by_row_and_column_and_nothing_is_taken(
    office: Office, row: dict[str, str], said: str
) -> None:
    told = take(office, fill(office, row, done() if row else {}), status=2)
    assert said in told
    assert office.run("board", "history", status=1).output == "No work is recorded.\n"


def test_a_form_is_taken_whole_or_refused_by_its_line(office: Office) -> None:
    entry = {
        "board": "B7",
        "terminal": "1.1 F1 | L1",
        "found": "loose",
        "done": True,
        "at": f"{DAY}T10:15",
    }
    form = {"torquary_work_record": 1, "who": "Ines", "visit": DAY, "entries": [entry]}
    path = office.folder / "record.json"
    for wrong, said in (
        ({"found": "wobbly"}, "line 9: entries[0].found: 'wobbly' is not allowed"),
        ({"at": "2028-01-01"}, "line 6: when 2028-01-01 lies in the future"),
        ({"colour": "red"}, "'colour' is not known"),
    ):
        path.write_text(json.dumps({**form, "entries": [{**entry, **wrong}]}, indent=1))
        told = take(office, path, status=2)
        assert said in told
    path.write_text(json.dumps(form))
    assert "not to be recalled with it: 1" in take(office, path)


def test_one_terminal_is_marked_from_the_command_line_with_its_plan(office: Office) -> None:
    words = (
        "board",
        "mark",
        "B7",
        "1.2 F2 | N",
        "--found",
        "loose",
        "--done",
        "--who",
        "Ines",
        "--on",
        DAY,
    )
    office.run(*words, "--plan", office.folder / "plan.json", status=0)
    (work,) = history(office, "B7")["visits"][0]["terminals"]
    assert (work["found"], work["done"], work["set_nm"], work["worked_at"]) == (
        "loose",
        True,
        2,
        DAY,
    )
    wrong = office.run(
        *words[:3], "1.9 F9", *words[4:], "--plan", office.folder / "plan.json", status=2
    ).output
    assert "does not plan '1.9 F9' of B7: it has 1.1 F1 | L1" in wrong
    office.run(*words[:-1], DAY, "--visit", "soon", status=2)


def places(form: Any, before: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Every field of a form: the names and numbers that lead to it."""
    parts = form.items() if isinstance(form, dict) else enumerate(form) if isinstance(form, list) else ()
    for name, part in parts:
        if isinstance(form, dict):
            yield (*before, name)
        yield from places(part, (*before, name))


def test_a_plan_with_a_part_missing_is_refused_by_its_line(office: Office) -> None:
    text = (office.folder / "plan.json").read_text("utf-8")
    whole = list(places(json.loads(text)))
    assert len(whole) > 80
    path = office.folder / "torn.json"
    for *above, name in whole:
        form = json.loads(text)
        item = reduce(lambda part, step: part[step], above, form)
        del item[name]
        path.write_text(json.dumps(form, indent=1), "utf-8")
        with pytest.raises(TorquaryError) as refused:
            look_up(path, "B7", "1.2 F2 | N")
        assert refused.value.status == 2
        assert refused.value.message.startswith(f"{path}, line {line_of(path, above)}: ")
        assert f"{name!r} is missing" in refused.value.message
    told = office.run("board", "mark", "B7", "1", "--found", "loose", "--plan", path, "--on", DAY, status=2)
    assert len(told.output.splitlines()) == 1


def test_a_plan_whose_digits_are_many_is_recorded_digit_by_digit(office: Office) -> None:
    form = json.loads((office.folder / "plan.json").read_text("utf-8"))
    for setting in form["plans"][0]["settings"]:
        setting["value_nm"] = 4321
    path = office.folder / "long.json"
    path.write_text(json.dumps(form).replace("4321", "2.03372692249710060000"))
    assert look_up(path, "B7", "1.2 F2 | N")["set_nm"] == "2.03372692249710060000"


def test_a_second_visit_tells_what_had_loosened(office: Office) -> None:
    take(office, fill(office, done(), done("loose"), done()))
    later = "2027-05-02"
    take(
        office,
        fill(
            office, done("loose", when=later), done("as set", when=later), done("loose", when=later)
        ),
    )
    told = office.run("board", "history", "B7").output
    assert f"B7, {later} compared with {DAY}: 2 had loosened, 1 held" in told
    assert "loosened: 1.1 F1 | L1 (before: as set, set)" in told
    (compared,) = history(office)["compared"]
    assert [one["change"] for one in compared["terminals"]] == ["loosened", "loosened", "held"]
    one = history(office, "--visit", DAY)
    assert (len(one["visits"]), one["compared"]) == (1, [])


def test_the_record_is_written_on_paper_with_its_boxes_ticked(office: Office) -> None:
    take(office, fill(office, done(), done("loose", remark="wire moved", photo="f3.jpg"), done()))
    later = "2027-05-02"
    take(office, fill(office, done("loose", when=later)))
    for size, points in (("a4", (595, 842)), ("letter", (612, 792))):
        paper = office.folder / f"{size}.pdf"
        office.run("board", "history", "B7", "-o", paper, "--paper", size, status=0)
        with pypdfium2.PdfDocument(paper) as document:
            assert tuple(round(side) for side in document[0].get_size()) == points
            text = [page.get_textpage().get_text_range().replace("\r\n", " ") for page in document]
        assert len(text) == 2
        head = f"Record of the visit of {DAY}: 3 terminals: 1 loose, 2 as set; 3 set"
        assert all(said in text[0] for said in (head, "wire moved", "photo f3.jpg"))
        assert f"{later} compared with {DAY}: 1 had loosened, 0 held" in text[1]
        assert "page 2 of 2" in text[1]
        label = text[1].split("Label for the door")[1]
        assert all(said in label for said in ("2.5 N·m", "F1 L1; 1.3 F3 L1", "2 N·m", "1.2 F2 N"))
        assert f"Done on {DAY}, {later} by Ines" in label
        assert "not set" not in label
    office.run("board", "history", "B7", "-o", office.folder / "record.doc", status=2)


def work(terminal: str, found: str, *, set_it: bool = True, value: int = 2) -> Work:
    return Work(
        number=1,
        terminal=terminal,
        found=found,
        done=set_it,
        who="Ines",
        worked_at=DAY,
        driver="",
        calibrated="",
        set_nm=value,
        photo="",
        remark="",
        corrects=(),  # type: ignore[arg-type]
    )


def test_how_a_board_stands_after_its_visits() -> None:
    """What was set last counts; what was found wrong and left is named, and is no setting."""
    first = [work("a", "loose"), work("b", "as_set"), work("c", "as_set", set_it=False), work("d", "loose")]
    second = [
        work("a", "as_set", set_it=False), work("b", "over_tight", set_it=False), work("c", "as_set", value=3),
        work("d", "not_checked", set_it=False), work("e", "not_checked", set_it=False),
    ]  # fmt: skip
    visits = [Visit(board="B7", day=day, works=tuple(works)) for day, works in (("1", first), ("2", second))]
    state = read_state(visits)
    assert [(one.terminal, one.set_nm) for one in state.set_last] == [("a", 2), ("c", 3), ("d", 2)]
    assert [one.terminal for one in state.wrong] == ["b"]
    assert [one.terminal for one in state.never_set] == ["e"]


def test_each_way_in_which_two_visits_differ() -> None:
    first = [
        work("a", "loose"),
        work("b", "loose", set_it=False),
        *(work(name, "as_set") for name in "cde"),
    ]
    found = {"b": "loose", "c": "over_tight", "d": "not_checked", "f": "loose"}
    second = [work("a", "as_set", value=3), *(work(name, state) for name, state in found.items())]
    visits = [
        Visit(board="B7", day=day, works=tuple(works))
        for day, works in (("1", first), ("2", second))
    ]
    told = {one.terminal: (one.change, one.other_setting) for one in compare_visits(*visits)}
    assert told == {
        "a": ("held", True),
        "b": ("left loose", False),
        "c": ("over-tight", False),
        "d": ("not checked", False),
        "e": ("not checked", False),
        "f": ("new", False),
    }


def test_plan_and_record_are_recalled_when_a_later_edition_is_loaded(office: Office) -> None:
    take(office, fill(office, done(), done(), done()))
    assert (
        office.run("recall", status=0).output
        == "given out: 2; all stand as they were\n"
    )
    office.put("qb4.html", "Breaker QB 16", f"{NUMBER} Edition 4", L1="2.8", N="2.0")
    office.load()
    told = office.run("recall", "B7", status=1).output
    assert f"plan, B7, plan of {DAY}: 2 of 2 figure(s) do not stand any more" in told
    assert f"work, B7, visit of {DAY}: 2 of 2 figure(s) do not stand any more" in told
    assert "2.5 N·m then, superseded" in told
    assert "2.8 N·m now" in told


def test_a_figure_corrected_after_the_plan_is_recalled_with_the_work(office: Office) -> None:
    """The record keeps what the plan gave out, not what the catalogue says when the record is taken
    in.
    """
    office.run("decide", office.reading("N"), "correct", "--torque", "2.2 Nm", *WHO, status=0)
    take(office, fill(office, done(), done(), done()))
    told = office.run("recall", "visit", status=1).output
    assert "2 N·m then, corrected" in told


def test_a_day_alone_is_enough_and_the_terminal_is_named_as_in_the_plan() -> None:
    entry = Entry(
        board="B7",
        visit=DAY,
        terminal=listed().name,
        found="as_set",
        done=True,
        who="Ines",
        worked_at=DAY,
    )
    assert list(find_faults(entry, date(2026, 5, 2))) == []
    assert [field for field, _ in find_faults(entry, date(2026, 5, 1))] == ["visit", "when"]
