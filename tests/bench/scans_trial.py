"""Try scans of the sample sheets: how many figures are proposed right, wrong, or not at all.

Usage: python tests/bench/scans_trial.py [--sheets NAME …] [--dpi 150 200 300] [--slant 0 1 2] [--turn 0]

Each PDF sample is rendered, slanted, given noise and saved as JPEG (quality 70, seed 1). What the sheet says is
what its live text gives. A figure is one setting: terminal, conductor size, torque. Prints a line for each setting
of the scanner, then seconds and peak memory; exit status 1 when a figure was released.
"""

from __future__ import annotations

import argparse
import resource
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

import numpy as np
import pypdfium2
from PIL import Image

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import Setting
from torquary_schema.words import fold

SAMPLES = Path(__file__).parents[2] / "sample_sheets"


def scan(
    sheet: Path, target: Path, *, dpi: int, slant: float, turn: int = 0, noise: float = 8, quality: int = 70
) -> None:
    """Write the first page of a sheet as a scanner of that density would give it."""
    document = pypdfium2.PdfDocument(sheet)
    page = document[0].render(scale=dpi / 72, grayscale=True).to_pil().convert("L")
    document.close()
    page = page.rotate(-slant, fillcolor=255, resample=Image.Resampling.BICUBIC).rotate(-turn, expand=True)
    levels = np.asarray(page, dtype=np.float64) + np.random.default_rng(1).normal(0, noise, (page.height, page.width))
    Image.fromarray(levels.clip(0, 255).astype(np.uint8)).save(target, quality=quality, dpi=(dpi, dpi))


def key(setting: Setting) -> tuple[object, ...]:
    """Return what a person asks for: terminal and conductor size."""
    size = setting.conductor
    return fold(setting.terminal.printed), size.min_mm2, size.max_mm2, size.min_awg, size.max_awg


def figures(setting: Setting) -> tuple[object, ...]:
    """Return the torque in N·m."""
    torque = setting.torque
    return (torque.min_nm, torque.max_nm) if torque else (None, None)


def compare(true: tuple[Setting, ...], proposed: tuple[Setting, ...]) -> Counter[str]:
    """Count the true figures that are proposed right, wrong and not at all, and proposals of nothing printed."""
    tally: Counter[str] = Counter(right=0, wrong=0, missing=0, strange=0)
    left = list(proposed)
    waiting = []
    for setting in true:
        same = next((p for p in left if key(p) == key(setting) and figures(p) == figures(setting)), None)
        if same is None:
            waiting.append(setting)
        else:
            left.remove(same)
            tally["right"] += 1
    for setting in waiting:
        other = next((p for p in left if key(p) == key(setting)), None)
        if other is not None:
            left.remove(other)
        tally["missing" if other is None or figures(other) == (None, None) else "wrong"] += 1
    tally["strange"] += sum(figures(p) != (None, None) for p in left)
    return tally


def main() -> int:
    """Run the trial."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("--sheets", nargs="*", default=[path.stem for path in sorted(SAMPLES.glob("*.pdf"))])
    ask.add_argument("--dpi", nargs="*", type=int, default=[150, 200, 300])
    ask.add_argument("--slant", nargs="*", type=float, default=[0.0, 1.0, 2.0])
    ask.add_argument("--turn", type=int, default=0)
    ask.add_argument("--verbose", action="store_true")
    args = ask.parse_args()
    released = 0
    begun, pages = time.process_time(), 0
    for dpi in args.dpi:
        for slant in args.slant:
            total: Counter[str] = Counter()
            with tempfile.TemporaryDirectory() as folder:
                for name in args.sheets:
                    target = Path(folder) / f"{name}.jpg"
                    scan(SAMPLES / f"{name}.pdf", target, dpi=dpi, slant=slant, turn=args.turn)
                    true = tuple(s for s in read_one(SAMPLES / f"{name}.pdf", OpenWish()).settings if s.place.page == 1)
                    got = read_one(target, OpenWish()).settings
                    pages += 1
                    released += sum(setting.state == "released" for setting in got)
                    tally = compare(true, got)
                    total += tally
                    if args.verbose:
                        print("   ", name, dict(tally), flush=True)
            whole = max(total["right"] + total["wrong"] + total["missing"], 1)
            shares = ", ".join(f"{what} {total[what] / whole:.1%}" for what in ("right", "wrong", "missing"))
            strange = f"of nothing printed {total['strange']}"
            print(f"{dpi} dpi, slant {slant:g}°: {shares}, {strange} ({whole} figures)", flush=True)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    each = (time.process_time() - begun) / max(pages, 1)
    print(f"released {released}; {each:.1f} s of processor a page; peak {peak} MiB")
    return 1 if released else 0


if __name__ == "__main__":
    sys.exit(main())
