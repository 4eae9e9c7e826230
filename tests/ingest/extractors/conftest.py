"""Tables built from lines, for every test of extractors."""

from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture
def tables() -> ModuleType:
    """Return the module that builds tables from lines and reads them."""
    import importlib.util

    spec = importlib.util.spec_from_file_location("headed_tables", Path(__file__).with_name("test_headed_tables.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
