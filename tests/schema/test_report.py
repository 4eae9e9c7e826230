"""Records written as JSON and read again are the same records, digit for digit."""

from decimal import Decimal

import pytest
from hypothesis import given
from record_strategies import plain_setting, reports, settings

from torquary_schema.report import (
    dump_json,
    load_json,
    report_from_dict,
    report_to_dict,
    reports_to_dict,
    setting_from_dict,
    setting_to_dict,
)
from torquary_schema.values import Setting, SheetReport


@given(settings())
def test_a_setting_survives_the_round_trip(setting: Setting) -> None:
    assert setting_from_dict(load_json(dump_json(setting_to_dict(setting)))) == setting


@given(reports)
def test_a_report_survives_the_round_trip(report: SheetReport) -> None:
    assert report_from_dict(load_json(dump_json(report_to_dict(report)))) == report


def test_printed_digits_are_kept() -> None:
    text = dump_json(setting_to_dict(plain_setting()), indent=None)
    assert '"min_nm":2.50,"nominal_nm":2.50,"max_nm":2.50' in text
    assert str(load_json(text)["torque"]["min_nm"]) == "2.50"


def test_numbers_are_written_without_an_exponent() -> None:
    assert dump_json([Decimal("1E+3"), Decimal("1E-8")], indent=None) == "[1000,0.00000001]"


def test_letters_stay_as_they_are_and_keys_keep_their_order() -> None:
    text = dump_json(reports_to_dict([SheetReport(file="ü.pdf", digest="", state="read")]), indent=None)
    assert text.startswith('{"sheets":[{"file":"ü.pdf","digest":"","state":"read"')


@pytest.mark.parametrize("number", [Decimal("NaN"), Decimal("Infinity"), float("nan")])
def test_a_number_that_json_cannot_hold_is_refused(number: object) -> None:
    with pytest.raises(ValueError, match=r"."):
        dump_json({"torque": number})


def test_a_float_torque_is_refused() -> None:
    record = setting_to_dict(plain_setting())
    record["torque"]["min_nm"] = 2.5
    with pytest.raises(TypeError, match="exact"):
        setting_from_dict(record)
