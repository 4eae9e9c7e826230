"""The settings in force as a frame of pandas."""

from __future__ import annotations

import csv
import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import pandas as pd
import pytest
from sheets_by_hand import held, report, setting

from torquary_catalogue import open_catalogue, settings_frame
from torquary_catalogue.export import export
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.settings import PUBLIC_COLUMNS, read_current
from torquary_schema.values import Conductor, Torque

D = Decimal
FIGURES = ("min_mm2", "max_mm2", "min_nm", "nominal_nm", "max_nm", "limit_nm")
COUNTS = ("conductor_count", "page", "table_number", "row_number")
LISTS = ("roles", "drive", "material", "stranding", "findings", "evidence", "missing", "scope", "conditions")


def frame_of(catalogue: Catalogue, *settings: object) -> pd.DataFrame:
    load_report(catalogue, report(*settings))
    return settings_frame(catalogue)


def test_figures_stay_exact(catalogue: Catalogue) -> None:
    """Pound-inches have sixteen decimals in N·m; none is lost, and no zeros of the column are added."""
    exact = D("0.1129848290276167") * 7
    torque = Torque(printed="7", unit_printed="lb·in", min_nm=exact, nominal_nm=exact, max_nm=exact)
    (row,) = frame_of(catalogue, setting("one-1", torque=torque)).to_dict("records")
    assert (row["nominal_nm"], str(row["max_mm2"])) == (exact, "16")
    assert isinstance(row["nominal_nm"], Decimal)


def test_each_column_has_its_kind(catalogue: Catalogue) -> None:
    size = D("1.5")
    conductor = Conductor(
        printed="2 × 1.5 mm²", system="mm2", min_mm2=size, max_mm2=size, ferrule=True, count=2
    )
    frame = frame_of(catalogue, setting("one-1", conductor=conductor), held("held-1"))
    kinds = frame.dtypes.astype(str)
    assert list(frame.columns) == list(PUBLIC_COLUMNS)
    assert {kinds[name] for name in (*FIGURES, *LISTS)} == {"object"}
    assert {kinds[name] for name in COUNTS} == {"Int64"}
    assert (kinds["ferrule"], kinds["decided_at"]) == ("boolean", "datetime64[us]")
    others = set(PUBLIC_COLUMNS) - {*FIGURES, *LISTS, *COUNTS, "ferrule", "decided_at"}
    assert {kinds[name] for name in others} == {"str"}
    assert frame["conductor_count"].tolist()[0] == 2
    assert bool(frame["ferrule"][0]) is True


def test_a_held_setting_shows_no_torque(catalogue: Catalogue) -> None:
    frame = frame_of(catalogue, setting("one-1"), held("held-1")).set_index("id")
    assert frame.loc["one-1", "min_nm"] == D("2.5")
    assert frame.loc["held-1", ["min_nm", "nominal_nm", "max_nm", "limit_nm", "torque_printed"]].isna().all()


def test_an_empty_catalogue_gives_a_frame_without_rows(catalogue: Catalogue) -> None:
    frame = settings_frame(catalogue)
    assert (len(frame), list(frame.columns)) == (0, list(PUBLIC_COLUMNS))
    assert str(frame.dtypes["page"]) == "Int64"


def test_a_column_of_figures_becomes_floats(catalogue: Catalogue) -> None:
    frame = frame_of(catalogue, setting("one-1"), held("held-1"))
    assert frame["min_nm"].astype(float).mean() == pytest.approx(2.5)
    assert (frame["min_nm"] == 2.5).sum() == 1


def test_csv_says_what_the_catalogue_holds(catalogue: Catalogue, tmp_path: Path) -> None:
    """Every cell against the row of the catalogue: numbers, yes and no, lists and what is not stated."""
    load_report(catalogue, report(setting("one-1"), held("held-1")))
    export(catalogue, tmp_path / "out.csv")
    raw = (tmp_path / "out.csv").read_bytes()
    with (tmp_path / "out.csv").open(encoding="utf-8-sig", newline="") as file:
        written = list(csv.DictReader(file))
    assert raw.count(b"\r\n") == 3
    for row, line in zip(read_current(catalogue), written, strict=True):
        for name, value in row.items():
            if value is None or value == []:
                assert line[name] == "", name
            elif isinstance(value, Decimal):
                assert D(line[name]) == value, name
            elif not isinstance(value, list):
                assert line[name] == str(value), name


def test_the_package_gives_it_without_importing_pandas_first(catalogue: Catalogue) -> None:
    """`import torquary_catalogue` costs nothing; the names of its face are there when they are asked for."""
    catalogue.close()
    program = (
        "import sys, torquary_catalogue as t; assert not {'pandas', 'duckdb'} & set(sys.modules)\n"
        "from torquary_catalogue import settings_frame\n"
        "assert 'pandas' in sys.modules and settings_frame.__doc__\n"
        "assert not hasattr(t, 'no_such_name')"
    )
    subprocess.run([sys.executable, "-c", program], check=True)
    with open_catalogue(catalogue.path) as opened:
        assert settings_frame(opened).empty
