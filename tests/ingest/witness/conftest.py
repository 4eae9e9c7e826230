"""Lets the tests of this folder import the drawn cells that stand beside them, and the font that lies."""

import sys
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[2])]
