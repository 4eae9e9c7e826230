"""Lets the tests of this folder import the sheets that the tests of extractors are set from."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "extractors"))
