"""Figures with a unit of torque that nothing says a screw is set to: one finding for a list, none held."""

from __future__ import annotations

from pathlib import Path

from torquary_ingest.reader import read_sheet

PARAMETERS = "Drive QD 5\n\nNo.;Hz;Nm;s\nP101;50;8.5;2\nP102;60;1.4;3\nP103;70;6.7;4\n"


def test_parameters_of_a_drive_are_named_once(tmp_path: Path) -> None:
    path = tmp_path / "drive.csv"
    path.write_text(PARAMETERS, encoding="utf-8")
    report = read_sheet(path)
    assert report.settings == ()
    (named,) = (finding for finding in report.findings if finding.code == "figure_not_placed")
    assert all(figure in named.printed for figure in ("8.5", "1.4", "6.7"))
    assert named.place is not None
    assert (named.place.page, named.place.table) == (1, 1)


def test_under_a_word_for_torque_they_are_held(tmp_path: Path) -> None:
    path = tmp_path / "drive.csv"
    path.write_text(PARAMETERS.replace("Nm", "Torque Nm"), encoding="utf-8")
    assert [setting.state for setting in read_sheet(path).settings] == ["held"] * 3
