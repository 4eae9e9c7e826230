"""Decisions about an earlier edition, carried over to the same print of a later one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from torquary_catalogue.store.answers import Answer, keep_answer, read_own_answers
from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.decision_words import tell_word
from torquary_catalogue.store.decisions import keep_decision, read_readings, read_words, settle, take_back_to_read
from torquary_catalogue.store.findings import add_findings
from torquary_catalogue.store.names_given import keep_names
from torquary_catalogue.store.record import read_made
from torquary_catalogue.store.same_print import PrintRead, Word, tell_differences
from torquary_schema.values import Finding

NOT_CARRIED = "decision_not_carried"

_SEEN = frozenset({"scanned_figure", "text_differs_from_picture", "ink_without_text", "text_without_ink"})
"""Doubts that a person settled by looking at the picture of the print: of another edition it is another picture."""

_DECISION = """
SELECT verdict, who, torque_given, min_nm, nominal_nm, max_nm, limit_nm FROM decision WHERE number = $number"""
_NAMES = """
SELECT * EXCLUDE (sheet, setting, decided_at, terminal_read, conductor_read, device_read) FROM name_given
WHERE (sheet, setting, decided_at) = (SELECT (sheet, setting, decided_at) FROM decision WHERE number = $number)"""


def carry_from_earlier(catalogue: Catalogue, digest: str) -> tuple[Finding, ...]:
    """Carry decisions about the sheets that this one superseded over to it; return what is said of those that are not.

    A decision is carried where one reading of each edition has the same printed figure and is read the same, wherever
    it stands, and the doubts are no others. What was decided about this edition itself goes before.
    """
    earlier = [one for one in read_made(catalogue, other=digest, kind="supersede") if one.stands]
    answers = [(one.file, each) for one in earlier for each in read_own_answers(catalogue, one.sheet)]
    words = [(one.file, one.sheet, word) for one in earlier for word in read_words(catalogue, one.sheet)]
    in_force = catalogue.rows("SELECT 1 FROM sheet WHERE digest = ? AND state = 'read'", [digest])
    if not (words or answers) or not in_force:
        return ()
    take_back_to_read(catalogue, digest)
    readings = read_readings(catalogue, digest)
    # Also what a person took back since is not carried again.
    carried = {one.carried_from for one in read_made(catalogue, sheet=digest)}
    left = _carry_words(catalogue, digest, [one for one in words if one[2].number not in carried], readings)
    uncarried = [(file, answer) for file, answer in answers if answer.number not in carried]
    left += _carry_answers(catalogue, digest, uncarried, readings)
    settle(catalogue, digest)
    catalogue.connection.execute("DELETE FROM finding WHERE sheet = ? AND code = ?", [digest, NOT_CARRIED])
    add_findings(catalogue, digest, None, left)
    return tuple(left)


def _find_same(word: Word, readings: Sequence[PrintRead], before: Sequence[PrintRead]) -> PrintRead | None:
    """Return the one reading that the word is about in the later edition, if it was about one in the earlier."""
    if word.verdict == "add" or word.about.doubts & _SEEN:
        return None
    same = [one for one in readings if _is_same(word.about, one)]
    return same[0] if len(same) == 1 and sum(_is_same(word.about, one) for one in before) <= 1 else None


def _is_same(before: PrintRead, now: PrintRead) -> bool:
    return set(tell_differences(before, now)) <= {"place"}


def _carry(catalogue: Catalogue, digest: str, word: Word, now: PrintRead, file: str) -> None:
    (columns,) = catalogue.rows(_DECISION, {"number": word.number})
    (made,) = read_made(catalogue, number=word.number)
    why = f"{word.why} (carried over from {file}, decision {word.number})"
    said = {**columns, "why": why, "state_before": "held" if now.doubts else "released"}
    keep_decision(
        catalogue, digest, now.id, said, before=said["state_before"], after=made.after, carried_from=word.number
    )
    for names in catalogue.rows(_NAMES, {"number": word.number}):
        keep_names(catalogue, digest, now.id, names)


def _carry_words(
    catalogue: Catalogue, digest: str, words: Sequence[tuple[str, str, Word]], readings: Sequence[PrintRead]
) -> list[Finding]:
    """Carry words about readings of earlier sheets (file, digest, word) over; return what is said of the others."""
    decided = {word.about.id for word in read_words(catalogue, digest)}
    left = []
    for file, sheet, word in words:
        now = _find_same(word, readings, read_readings(catalogue, sheet))
        if now is None:
            left.append(_describe(word, file))
        elif now.id not in decided:
            _carry(catalogue, digest, word, now, file)
            decided.add(now.id)
    return left


def _carry_answers(
    catalogue: Catalogue, digest: str, answers: Sequence[tuple[str, Answer]], readings: Sequence[PrintRead]
) -> list[Finding]:
    """Carry answers, each about the sheet of a file, over to this one; return what is said of those not for all."""
    done = [(file, answer, _carry_answer(catalogue, digest, file, answer, readings)) for file, answer in answers]
    return [_describe_answer(file, answer) for file, answer, whole in done if not whole]


def _carry_answer(
    catalogue: Catalogue, digest: str, file: str, answer: Answer, readings: Sequence[PrintRead]
) -> bool:
    """Carry an answer to the readings of a later edition that are the same; tell whether all of them are there."""
    found = [[one for one in readings if _is_same(before, one)] for before in answer.prints]
    prints = {each[0].id: each[0] for each in found if len(each) == 1}
    if prints:
        why = f"{answer.why} (carried over from {file}, decision {answer.number})"
        carried = replace(answer, sheet=digest, why=why, carried_from=answer.number, prints=tuple(prints.values()))
        (made,) = read_made(catalogue, number=answer.number)
        keep_answer(catalogue, carried, f"{len(prints)} reading(s) held", made.after)
    return len(prints) == len(answer.prints)


def _describe_answer(file: str, answer: Answer) -> Finding:
    message = (
        f"{answer.who} gave an answer for {len(answer.prints)} reading(s) of {file} (decision {answer.number}), and "
        "this sheet does not print all of them the same: look at the others and answer anew"
    )
    return Finding(code=NOT_CARRIED, message=message, scope="sheet")


def _describe(word: Word, file: str) -> Finding:
    message = f"{tell_word(word)} in {file}, and this sheet does not print the same: look at it and decide anew"
    return Finding(code=NOT_CARRIED, message=message, scope="sheet")
