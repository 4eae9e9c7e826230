"""Draws all cases of hidden text as a browser shows them, to compare with what is read: `PICTURE.png [BROWSER]`.

The browser is a command that takes Chromium's options (`chromium` unless named). Each case stands under its name
and the figure that the tests expect ("held" for doubtful ones).
"""

from __future__ import annotations

import html
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image, ImageDraw

sys.path.insert(0, str(Path(__file__).parents[1] / "ingest" / "openers"))
from hidden_text import DOUBTFUL, SEEN, page

HIGH, WIDE, LABEL, ACROSS = 72, 330, 18, 5


def draw(cases: list[tuple[str, str, str]], browser: str) -> Image.Image:
    """Return one picture of all pages, each in a frame as wide as the screen."""
    frames = "".join(
        f'<iframe srcdoc="{html.escape(page(style, cell), quote=True)}" width=1280 height={HIGH} scrolling=no '
        'style="border:0;display:block"></iframe>'
        for _, style, cell in cases
    )
    with tempfile.TemporaryDirectory() as folder:
        source, picture = Path(folder) / "all.html", Path(folder) / "all.png"
        source.write_text(f"<!DOCTYPE html><meta charset=utf-8><style>body{{margin:0}}</style>{frames}", "utf-8")
        size = f"--window-size=1280,{HIGH * len(cases)}"
        options = ["--headless", "--no-sandbox", "--disable-gpu", size, "--virtual-time-budget=8000"]
        subprocess.run([browser, *options, f"--screenshot={picture}", source.as_uri()], capture_output=True, check=True)
        return Image.open(picture).convert("RGB")


def main() -> None:
    cases = [(f"{name} [{shown}]", style, cell) for name, (style, cell, shown) in SEEN.items()]
    cases += [(f"{name} [held]", style, cell) for name, (style, cell) in DOUBTFUL.items()]
    drawn = draw(cases, sys.argv[2] if len(sys.argv) > 2 else "chromium")
    rows = -(-len(cases) // ACROSS)
    sheet = Image.new("RGB", (ACROSS * WIDE, rows * (HIGH + LABEL)), "white")
    pen = ImageDraw.Draw(sheet)
    for at, (name, _, _) in enumerate(cases):
        left, top = at % ACROSS * WIDE, at // ACROSS * (HIGH + LABEL)
        pen.text((left + 2, top + 2), name, fill="red")
        sheet.paste(drawn.crop((0, at * HIGH, WIDE - 6, (at + 1) * HIGH)), (left, top + LABEL))
    sheet.save(sys.argv[1])


if __name__ == "__main__":
    main()
