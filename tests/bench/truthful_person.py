"""A person who knows the truth of one sheet, and answers, decides, corrects and adds by it; and what that cost."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from truth_rows import (
    Row,
    has_figure,
    is_for,
    is_true,
    same_device,
    same_label,
    signs_of,
    typed_size,
    typed_torque,
)

from torquary_catalogue.decide import AnswerWish, Wish, decide
from torquary_catalogue.decide.added import Missed, add_row
from torquary_catalogue.questions import ask, ask_columns, lacks_alike, reached
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.answers import Given, Reach
from torquary_catalogue.store.settings import read_held

ENOUGH = 0.95
"""Share of a sheet's rows that must be released right."""
_REACHES: tuple[Reach, ...] = ("sheet", "list", "column", "row", "reading")
_WHO = {"who": "the truth", "why": "it stands in the file beside the sheet"}


@dataclass(slots=True, kw_only=True)
class Cost:
    """What one sheet cost. `wanting` are readings held for nothing but want of evidence that are true rows.

    `singles` are held readings decided one by one, `mended` readings corrected that have another name, purpose or size,
    `added` rows that no reading has; `right_read` the true rows that were right before the last two.
    """

    name: str
    rows: int
    right_before: int = 0
    right: int = 0
    wanting: int = 0
    answers: int = 0
    singles: int = 0
    singly: int = 0
    right_read: int = 0
    mended: int = 0
    added: int = 0
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
        self.cost.right_read = self.cost.right
        while not self._is_enough():
            self._mend_one()
        self.cost.wrong = self._find_wrong()
        return self.cost

    def _is_enough(self) -> bool:
        self.cost.right = self._count_right()
        return self.cost.right >= ENOUGH * self.cost.rows

    def _released(self) -> list[dict[str, Any]]:
        query = "SELECT * FROM setting WHERE state = 'released' AND purpose = 'electrical_terminal'"
        return self.catalogue.rows(query)

    def _count_right(self) -> int:
        return len(self.truth) - len(self._list_missing())

    def _list_missing(self) -> list[Row]:
        """Return the true rows that are not released right."""
        released = self._released()
        return [row for row in self.truth if not any(is_true(setting, row) for setting in released)]

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
        """Answer one question; first of a column that has no true row whether it is torques at all."""
        held = self._held()
        for column in ask_columns(held):
            rows = [*reached(held, column.first, "column")]
            if not any(self._truths(row) for row in rows):
                wish = AnswerWish(setting=column.first["id"], given=Given(no_torque=True), reach="column", **_WHO)
                decide(self.catalogue, [wish])
                return True
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
        """Correct one held reading that is a true row which is not right yet; tell whether there was one."""
        missing = self._list_missing()
        for row in self._held():
            one = next((one for one in self._truths(row) if one in missing), None)
            if one is not None:
                self._correct(row, one)
                return True
        return False

    def _mend_one(self) -> None:
        """Correct what has the figure of a missing row under a name, purpose or size that is none, or add the row."""
        one = self._list_missing()[0]
        other = [row for row in self.catalogue.rows("SELECT * FROM setting") if not self._is_any(row)]
        found = next((row for row in other if is_for(row, one)), None)
        wide = (row for row in other if has_figure(row, one) and same_device(row, one))
        sized = next((row for row in wide if same_label(row["terminal_printed"], one)), None) if found is None else None
        if found is not None or sized is not None:
            self._correct(found or sized or {}, one, conductor=typed_size(one) if sized is not None else None)
            self.cost.mended += 1
            return
        row = Missed(
            sheet=self.catalogue.rows("SELECT digest FROM sheet")[0]["digest"], page=int(_extra(one).get("page") or 1),
            device=_truth_of(one, "device") or "the sheet's", terminal=one["terminal"] or "terminal",
            torque=typed_torque(one), conductor=typed_size(one), **_WHO,
        )  # fmt: skip
        add_row(self.catalogue, row)
        self.cost.added += 1

    def _is_any(self, row: Row) -> bool:
        return row["purpose"] == "electrical_terminal" and any(is_true(row, one) for one in self.truth)

    def _correct(self, row: Row, one: Row, conductor: str | None = None) -> None:
        wish = Wish(
            setting=row["id"], verdict="correct", terminal=one["terminal"] or "terminal", purpose=_purpose(one),
            device=_truth_of(one, "device") or row["device_printed"] or "the sheet's", conductor=conductor, **_WHO,
        )  # fmt: skip
        decide(self.catalogue, [wish])


def _truth_of(row: Row, name: str) -> str:
    return str(row["terminal"] if name == "terminal" else _extra(row).get("device") or "")


def _extra(row: Row) -> dict[str, Any]:
    return row.get("extra") or {}


def _purpose(row: Row) -> str:
    return str(_extra(row).get("purpose", "electrical_terminal"))
