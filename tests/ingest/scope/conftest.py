"""Lets the tests of this folder import the sheets that all tests of ingest draw."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
