"""What is shown of an answer with many rows."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from click.testing import CliRunner
from sheets_by_hand import report, setting, torque

from torquary_catalogue.command import main
from torquary_catalogue.find import find, read_question
from torquary_catalogue.show.notice import MOST_SHOWN, Notice, write_notice
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report
from torquary_schema.values import Device, Setting


def breakers(count: int, odd: Iterable[int] = ()) -> list[Setting]:
    """Settings of as many models; the odd ones have a figure of their own."""
    return [
        setting(
            f"row-{number}",
            device=Device(printed=f"Breaker BK-{number}", family="mcb", series="BK", model=f"BK-{number}"),
            **({"torque": torque(*[f"3.{number:02}1"] * 3)} if number in odd else {}),
        )
        for number in range(count)
    ]


def shown(catalogue: Catalogue, settings: list[Setting], *, every_row: bool = False) -> Notice:
    load_report(catalogue, report(*settings))
    return write_notice(find(catalogue, read_question(catalogue, "mcb outgoing")), every_row=every_row)


def lines(notice: Notice) -> tuple[tuple[str, ...], ...]:
    assert notice.table
    return notice.table.lines


def test_few_rows_are_all_shown(catalogue: Catalogue) -> None:
    notice = shown(catalogue, breakers(MOST_SHOWN))
    assert (len(notice.blocks), len(notice.places)) == (1, MOST_SHOWN - 1)
    assert not any("not shown" in note for note in notice.notes)


def test_of_many_rows_the_first_are_shown_and_the_rest_counted(catalogue: Catalogue) -> None:
    notice = shown(catalogue, breakers(40))
    assert (len(notice.blocks), len(notice.places)) == (1, MOST_SHOWN - 1)
    assert notice.headline == "40 rows agree"
    assert [note for note in notice.notes if "not shown" in note] == [
        "28 more rows are not shown: say maker, model or terminal, or ask with --all."
    ]


def test_a_figure_of_one_row_among_many_is_shown(catalogue: Catalogue) -> None:
    """The row that differs must not be the one left out."""
    notice = shown(catalogue, breakers(40, odd=[39]))
    assert any("3.391 N·m" in line for line in lines(notice))


def test_more_figures_than_rows_shown_are_counted(catalogue: Catalogue) -> None:
    notice = shown(catalogue, breakers(40, odd=range(40)))
    assert any("28 more rows are not shown, among them 28 more figures" in note for note in notice.notes)
    assert any("| and 32 more" in note for note in notice.notes)


def test_every_row_can_be_asked_for(catalogue: Catalogue) -> None:
    assert len(lines(shown(catalogue, breakers(40, odd=[3]), every_row=True))) == 40


def test_the_option_all(tmp_path: Path, catalogue: Catalogue) -> None:
    load_report(catalogue, report(*breakers(20)))
    catalogue.close()
    asked = ["find", "mcb", "--catalogue", str(tmp_path / "harbour.duckdb")]
    assert CliRunner().invoke(main, asked).output.count("BK-") == MOST_SHOWN
    assert CliRunner().invoke(main, [*asked, "--all"]).output.count("BK-") == 20
