"""Sheets whose headings are abbreviations of no language, each with the layout profile that explains them."""

from __future__ import annotations

import json
import random
from dataclasses import replace
from pathlib import Path

from random_sheets import LAYOUTS, UNITS, Sheet, choose_rows, choose_words, draw_table

from torquary_ingest.headings.sense import make_sense
from torquary_ingest.profiles import read_profile

MAKER = "Lantern Quay"
SYLLABLES = ("Kx", "Qu", "Mz", "Zat", "Ploz", "Gw", "Urb", "Ts", "Vrel", "Obz", "Nif", "Dro")
ENDINGS = ("", ".", " mom.", ". kl", "-Wt", " 1")


def choose_headings(dice: random.Random) -> list[str]:
    """Three headings that are not known: for terminals, sizes and torques."""
    while True:
        words = [word + dice.choice(ENDINGS) for word in dice.sample(SYLLABLES, 3)]
        senses = [make_sense(word) for word in words]
        if not any(sense.fields or sense.units or sense.false_friend for sense in senses):
            return words


def write_explained(folder: Path, seed: int) -> Sheet:
    """Write the sheet of this seed and its profile; the units are printed, or the profile states them."""
    dice = random.Random(seed)
    layout = dice.choice(LAYOUTS)
    language, _, labels = choose_words(dice, printable=layout != "csv")
    head = choose_headings(dice)
    unit, mark, place = dice.choice(list(UNITS)), dice.choice(".,"), dice.choice(("head", "cell", "profile", "profile"))
    rows, stated = choose_rows(dice, labels, unit if place == "cell" else "", UNITS[unit], mark)
    sizes_printed = dice.random() < 0.5
    table = [[head[0], head[1] + " mm²" * sizes_printed, f"{head[2]} {unit}" if place == "head" else head[2]], *rows]
    order = dice.sample(range(3), 3)
    if layout != "transposed":
        table = [[row[i] for i in order] for row in table]
    path = folder / f"lantern_quay_{seed}.{'csv' if layout == 'csv' else 'pdf'}"
    if layout == "csv":
        path.write_text("".join(";".join(row) + "\n" for row in table), "utf-8")
    else:
        draw_table(path, table, layout)
    units = ("", "" if sizes_printed else "mm²", unit if place == "profile" else "")
    said = zip(head, ("terminal", "conductor", "torque"), units, strict=True)
    record = {
        "torquary_profile": 1,
        "maker": MAKER,
        "headings": [{"printed": printed, "means": means, "unit": unit} for printed, means, unit in said],
    }
    profile = folder / f"{seed}.json"
    profile.write_text(json.dumps(record), "utf-8")
    sheet = Sheet(path=path, layout=layout, language=language, stated=tuple(stated))
    return replace(sheet, profiles=(read_profile(profile),))
