"""Forms in files: numbers as written, and the line of each part whatever its texts hold."""

from __future__ import annotations

import json
import tempfile
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from torquary_schema.forms import FormWrong, line_of, read_form

TEXTS = st.text(alphabet='ab"\\{}[],: \n\u2028é', max_size=6)
FORMS = st.dictionaries(TEXTS, st.recursive(TEXTS, lambda part: st.lists(part, min_size=1, max_size=3), max_leaves=6))


def lines_of_parts(text: str) -> list[int]:
    """The line of each field, told by a file that has one field a line."""
    return [at for at, line in enumerate(text.split("\n"), start=1) if line not in ("{", "}", "{}")]


@given(FORMS)
def test_each_field_is_found_on_its_line(form: dict[str, Any]) -> None:
    fields = ",\n".join(f"{json.dumps(name)}: {json.dumps(part)}" for name, part in form.items())
    text = f"{{\n{fields}\n}}" if form else "{}"
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "form.json"
        path.write_text(text, "utf-8")
        assert [line_of(path, (name,)) for name in form] == lines_of_parts(text)


def test_numbers_are_those_that_are_written(tmp_path: Path) -> None:
    path = tmp_path / "form.json"
    path.write_text('{"a": 2.03372692249710060000, "b": 3}')
    assert read_form(path, largest=1000, kind="a form") == {"a": Decimal("2.03372692249710060000"), "b": 3}
    for odd in ("1e999999999", "1e-40", "NaN"):
        path.write_text(f'{{"a": {odd}}}')
        with pytest.raises(FormWrong, match="is no number"):
            read_form(path, largest=1000, kind="a form")
