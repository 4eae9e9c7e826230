"""Counts what a person must answer until nearly all rows of sheets are released right: `FOLDER… [--only NAME…]`.

A folder holds sheets, each with NAME.json beside it that names its `file` and its true `rows` (terminal, sizes, torque
in N·m, `extra.device`). The truth answers: with the widest reach at which one answer is true of all readings that it
would be given to, then reading by reading. Beside it stands what deciding each reading by itself would cost.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from truth_rows import Row, is_for, is_true, same_device, same_label, signs_of

from torquary_catalogue.decide import AnswerWish, Wish, decide
from torquary_catalogue.load import load_sheets
from torquary_catalogue.questions import ask, lacks_alike, reached
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.answers import Given, Reach
from torquary_catalogue.store.settings import read_held

ENOUGH = 0.95
"""Share of a sheet's rows that must be released right."""
MANY = 8
"""Readings held for want of evidence from which a sheet counts for the goal of one answer for every eight."""
_REACHES: tuple[Reach, ...] = ("sheet", "list", "column", "row", "reading")
_UNITS = ("N·m", "lbf·in", "lbf·ft", "kgf·cm", "kgf·m", "cN·m")
_WHO = {"who": "the truth", "why": "it stands in the file beside the sheet"}


@dataclass(slots=True, kw_only=True)
class Cost:
    """What one sheet cost. `wanting` are readings held for nothing but want of evidence that are true rows."""

    name: str
    rows: int
    right_before: int = 0
    right: int = 0
    wanting: int = 0
    answers: int = 0
    singles: int = 0
    singly: int = 0
    wrong: list[str] = field(default_factory=list)


class Person:
    """Who knows the truth of one sheet and answers what its catalogue asks."""

    def __init__(self, catalogue: Catalogue, case: Mapping[str, Any]) -> None:
        self.catalogue = catalogue
        named = [row for row in case["rows"] if row["torque_min_nm"] is not None or row["torque_max_nm"] is not None]
        self.truth = [row for row in named if _purpose(row) == "electrical_terminal"]
        self.cost = Cost(name=case["case"], rows=len(self.truth))
        self._tried: set[str] = set()

    def settle(self) -> Cost:
        """Answer until enough rows are right, or nothing is left that can be answered."""
        self.cost.right_before = self.cost.right = self._count_right()
        held = self._held()
        self.cost.wanting = sum(bool(row["lacks"] and row["settles"] and self._truths(row)) for row in held)
        needed = ENOUGH * self.cost.rows - self.cost.right
        self.cost.singly = sum(1 for row in held if self._truths(row)) if needed > 0 else 0
        while not self._is_enough() and self._answer_one():
            self.cost.answers += 1
        while not self._is_enough() and self._decide_one():
            self.cost.singles += 1
        self.cost.wrong = self._find_wrong()
        return self.cost

    def _is_enough(self) -> bool:
        self.cost.right = self._count_right()
        return self.cost.right >= ENOUGH * self.cost.rows

    def _released(self) -> list[dict[str, Any]]:
        query = "SELECT * FROM setting WHERE state = 'released' AND purpose = 'electrical_terminal'"
        return self.catalogue.rows(query)

    def _count_right(self) -> int:
        released = self._released()
        return sum(any(is_true(setting, row) for setting in released) for row in self.truth)

    def _find_wrong(self) -> list[str]:
        told = self.catalogue.rows("SELECT setting FROM finding WHERE code = 'evidence_given'")
        named = {row["setting"] for row in told}
        given = (one for one in self._released() if one["id"] in named)
        wrong = (one for one in given if not any(is_true(one, row) for row in self.truth))
        return [f"{one['device_printed']} | {one['terminal_printed']} | {one['conductor_printed']}" for one in wrong]

    def _held(self) -> list[dict[str, Any]]:
        columns = {row["id"]: row for row in self.catalogue.rows("SELECT * FROM setting")}
        return [{**columns[row["id"]], **row} for row in read_held(self.catalogue)]

    def _truths(self, row: Row) -> list[Row]:
        """Return the true rows that a held reading may be: those that have its device and label, if any has."""
        found = [one for one in self.truth if is_for(row, one)]
        closer = [one for one in found if same_device(row, one) or self._beside(row, one, "device")] or found
        return [one for one in closer if same_label(row["terminal_printed"], one)] or closer

    def _answer_one(self) -> bool:
        held = self._held()
        wanted = [one for one in ask(held) if one.first["id"] not in self._tried]
        for question in wanted:
            for first in question.rows:
                wish = self._find_answer(held, first)
                if wish is not None:
                    self._tried |= {row["id"] for row in reached(held, first, wish.reach)}
                    decide(self.catalogue, [wish])
                    return True
        return False

    def _find_answer(self, held: Sequence[Row], first: Row) -> AnswerWish | None:
        """Return the widest answer that is true of each reading that it would be given to."""
        if first["id"] in self._tried or not first["settles"] or not first["lacks"]:
            return None
        fields = set(first["lacks"])
        for reach in _REACHES:
            rows = [row for row in reached(held, first, reach) if lacks_alike(row, first, fields)]
            named = [row for row in rows if self._truths(row)]
            freed = [row for row in rows if row["settles"] and set(row["lacks"]) <= fields]
            given = self._give(named, fields) if all(row in named for row in freed) else None
            if given is not None:
                return AnswerWish(setting=first["id"], given=given, reach=reach, **_WHO)
        return None

    def _give(self, rows: Sequence[Row], lacking: set[str]) -> Given | None:
        """Return what the rows lack, as one answer; None where they want several."""
        given = Given(tightening="quantity" in lacking, purpose="electrical_terminal" if "screw" in lacking else "")
        right = tuple(sorted(lacking & {"blank", "condition"}))
        if lacking & {"size", "unit"} or (right and not self._as_read(rows)):
            return None
        if "terminal" not in lacking and not all(self._is_named(row, "terminal") for row in rows):
            return None
        names = [self._name(rows, name) for name in ("terminal", "device") if name in lacking or name == "device"]
        if any(name is None for name in names):
            return None
        told: dict[str, Any] = {}
        for name in names:
            right += (name or {}).get("as_read", ())
            told |= name or {}
        told["as_read"] = right
        if "device" not in lacking and not told.get("device_from") and self._clash(rows):
            told |= self._tell_apart(rows)
        return replace(given, **told)

    def _clash(self, rows: Sequence[Row]) -> bool:
        """Tell whether rows of one device and one terminal have several torques: something else tells them apart."""
        torques: dict[tuple[str, ...], set[Any]] = {}
        for row in rows:
            names = tuple(sorted({one["terminal"] for one in self._truths(row)}))
            torques.setdefault((row["device_printed"], *names), set()).add(row["read_max_nm"])
        return any(len(found) > 1 for found in torques.values())

    def _tell_apart(self, rows: Sequence[Row]) -> dict[str, str]:
        """Return the first column that names another device for each torque."""
        for heading in dict.fromkeys(one["heading"] for one in rows[0]["beside"] or ()):
            texts = [{one["text"] for one in row["beside"] if one["heading"] == heading} for row in rows]
            pairs = {(next(iter(text), ""), row["read_max_nm"]) for text, row in zip(texts, rows, strict=True)}
            worded = all(any(map(str.isalpha, name)) for name, _ in pairs)
            if worded and len({name for name, _ in pairs}) == len(pairs) > 1:
                return {"device_from": heading}
        return {}

    def _as_read(self, rows: Iterable[Row]) -> bool:
        return all(any(is_true(row, one) for one in self.truth) for row in rows)

    def _name(self, rows: Sequence[Row], name: str) -> dict[str, Any] | None:
        """Return how all the rows are named: as they were read, by a column, or by one text."""
        if all(row[f"{name}_printed"] and self._is_named(row, name) for row in rows):
            return {"as_read": (name,)} if any(name in row["lacks"] for row in rows) else {}
        for heading in dict.fromkeys(one["heading"] for row in rows for one in row["beside"] or ()):
            if all(any(self._prints(row, heading, one, name) for one in self._truths(row)) for row in rows):
                return {f"{name}_from": heading}
        texts = [{_truth_of(one, name) for one in self._truths(row)} for row in rows]
        shared = set.intersection(*texts) if texts else set()
        text = next((one for one in sorted(shared) if one), "")
        return {name: text} if text else None

    def _is_named(self, row: Row, name: str) -> bool:
        truths = self._truths(row)
        same = same_device if name == "device" else lambda one, two: same_label(one["terminal_printed"], two)
        return bool(truths) and all(same(row, one) for one in truths)

    def _beside(self, row: Row, one: Row, name: str) -> bool:
        return any(self._prints(row, said["heading"], one, name) for said in row["beside"] or ())

    def _prints(self, row: Row, heading: str, one: Row, name: str) -> bool:
        texts = {said["text"] for said in row["beside"] or () if said["heading"] == heading}
        wanted = _truth_of(one, name)
        return len(texts) == 1 and bool(wanted) and signs_of(wanted) in signs_of(next(iter(texts)))

    def _decide_one(self) -> bool:
        """Correct one reading that is a true row by itself; tell whether there was one."""
        for row in self._held():
            for one in self._truths(row):
                wish = Wish(
                    setting=row["id"], verdict="correct", terminal=one["terminal"] or "terminal",
                    device=_truth_of(one, "device") or row["device_printed"] or "the sheet's", **_WHO,
                )  # fmt: skip
                decide(self.catalogue, [wish])
                return True
        return False


def _truth_of(row: Row, name: str) -> str:
    return str(row["terminal"] if name == "terminal" else (row.get("extra") or {}).get("device") or "")


def _purpose(row: Row) -> str:
    return str((row.get("extra") or {}).get("purpose", "electrical_terminal"))


def try_sheet(case: Path) -> Cost | None:
    """Return what a sheet costs; None where it is not there."""
    told = json.loads(case.read_text("utf-8"))
    sheet = case.with_name(told["file"])
    if not sheet.exists():
        return None
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "trial.duckdb"
        load_sheets(path, [sheet])
        with open_catalogue(path, writing=True) as catalogue:
            return Person(catalogue, told).settle()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folders", nargs="+", type=Path)
    parser.add_argument("--only", nargs="*", default=[])
    args = parser.parse_args()
    cases = [path for folder in args.folders for path in sorted(folder.glob("*.json"))]
    chosen = [path for path in cases if not args.only or path.name.startswith(tuple(args.only))]
    costs = [cost for path in chosen if (cost := try_sheet(path)) is not None]
    for cost in costs:
        if cost.answers or cost.singles or cost.wanting or cost.wrong:
            print(cost)
    many = [cost for cost in costs if cost.wanting >= MANY]
    total = {name: sum(getattr(cost, name) for cost in costs) for name in
             ("rows", "right_before", "right", "wanting", "answers", "singles", "singly")}  # fmt: skip
    print(f"{len(costs)} sheet(s): {total}")
    print(f"sheets with {MANY} or more wanting: {sum(one.answers for one in many)} answer(s) for "
          f"{sum(one.wanting for one in many)} reading(s)")  # fmt: skip
    sys.exit(1 if any(cost.wrong for cost in costs) else 0)


if __name__ == "__main__":
    main()
