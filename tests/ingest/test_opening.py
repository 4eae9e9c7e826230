"""What finds tables imports nothing of what reads figures, or other kinds of files: starting takes longest."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

SHEET = Path(__file__).parents[2] / "sample_sheets" / "grobnickel_main_switch.pdf"

OPEN = """
import sys
from pathlib import Path
from torquary_ingest.opening import open_sheet
from torquary_ingest.plugins import OpenWish

assert open_sheet(Path(sys.argv[1]), OpenWish(every_page=True)).tables
print(*sorted({"lark", "pint", "jsonschema", "cv2", "onnxruntime", "lxml", "python_calamine"} & set(sys.modules)))
print(*sorted(name for name in sys.modules if name.startswith(("torquary_ingest.figures", "torquary_ingest.scans"))))
"""


def test_opening_a_pdf_imports_no_reader_of_figures_pictures_or_other_files() -> None:
    done = subprocess.run([sys.executable, "-c", OPEN, str(SHEET)], capture_output=True, text=True, check=True)
    assert done.stdout.split() == []
