"""Finding codes: every one means something, and unknown ones are refused."""

import pytest

from torquary_schema.findings import codes, holds, leaves_unread, meaning


def test_every_code_has_a_meaning_in_one_sentence() -> None:
    assert codes()
    for key, code in codes().items():
        assert code.key == key
        assert key == key.lower()
        assert meaning(key) == code.meaning
        assert code.meaning.endswith(".")


def test_a_doubtful_figure_is_held_and_a_remark_is_not() -> None:
    assert holds("unit_missing")
    assert holds("record_invalid")
    assert not holds("note_attached")


def test_an_unknown_code_raises() -> None:
    with pytest.raises(KeyError):
        holds("no_such_code")
    with pytest.raises(KeyError):
        meaning("no_such_code")


def test_the_codes_that_tell_of_print_left_unread_hold_nothing() -> None:
    """They stand beside figures, not on them; what holds a figure makes the status 1 by itself."""
    unread = {code for code in codes() if leaves_unread(code)}
    assert {"heading_unknown", "table_no_headings", "figure_not_placed"} <= unread
    assert "sheet_no_settings" not in unread
    damage = {"sheet_damaged", "page_damaged", "pages_not_read"}  # it holds what was read, and tells what may be lost
    assert {code for code in unread if codes()[code].holds} == damage
