"""Which sheets are in force: by what people decided, and by what the sheets show themselves to replace."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.decisions import settle
from torquary_catalogue.store.identity import Identity, find_near, read_kin
from torquary_catalogue.store.kinship import relate
from torquary_catalogue.store.record import PROGRAM, SHOWN_DIGITS, Entry, Made, keep, read_made
from torquary_schema.findings import codes
from torquary_schema.values import Finding

_UNREAD = """
SELECT EXISTS (SELECT 1 FROM row_added AS a JOIN decision_record AS r ON r.number = a.number
    WHERE a.sheet = $sheet AND r.undone_by IS NULL) AS has_rows
FROM sheet WHERE digest = $sheet AND (state = 'refused' OR reader = 0)"""
_PUT = "UPDATE sheet SET state = $state, superseded_by = $by, superseded_why = $why WHERE digest = $digest"


@dataclass(frozen=True, slots=True)
class Judged:
    """What became of a sheet beside those that it may replace: digests that it did, and what is to be said.

    `plain` tells that no sheet came in force or out of it.
    """

    replaced: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    plain: bool = True


@dataclass(frozen=True, slots=True)
class Standing:
    """Whether a sheet of the catalogue is in force, and the version of what read it (0: not known).

    `finding` says what keeps it from coming back.
    """

    in_force: bool
    reader: int
    finding: Finding | None = None


def put_standing(catalogue: Catalogue, digest: str) -> tuple[Finding, ...]:
    """Give a sheet the state that the record says it has, and its settings with it; return what `settle` does."""
    put_state(catalogue, digest)
    return settle(catalogue, digest)


def put_state(catalogue: Catalogue, digest: str) -> None:
    """Give a sheet the state that the record says it has, not yet its settings.

    One that could not be read is in force with the rows that people added to it.
    """
    unread = catalogue.rows(_UNREAD, {"sheet": digest})
    if unread:
        # A later reader that can read it finds by this that none did.
        catalogue.connection.execute("UPDATE sheet SET reader = 0 WHERE digest = ? AND reader <> 0", [digest])
    in_force = "refused" if unread and not unread[0]["has_rows"] else "read"
    out = _read_out(catalogue, digest)
    state = in_force if out is None else "withdrawn" if out.kind == "withdraw" else "superseded"
    replaced = out if out is not None and out.kind == "supersede" else None
    values = {
        "digest": digest,
        "state": state,
        "by": replaced.other if replaced else None,
        "why": ("edition" if replaced.who == PROGRAM else "person") if replaced else None,
    }
    catalogue.connection.execute(_PUT, values)


def is_unread(catalogue: Catalogue, digest: str) -> bool:
    """Tell whether no reader could read a sheet, so that all its rows are people's."""
    return bool(catalogue.rows(_UNREAD, {"sheet": digest}))


def _read_out(catalogue: Catalogue, digest: str) -> Made | None:
    """Return the decision that keeps a sheet out of force; a person's withdrawal goes before all others."""
    made = [one for one in read_made(catalogue, sheet=digest) if one.stands]
    last = next((one for one in reversed(made) if one.kind in ("withdraw", "restore")), None)
    if last is not None and last.kind == "withdraw":
        return last
    return next((one for one in reversed(made) if one.kind == "supersede"), None)


def judge(catalogue: Catalogue, digest: str) -> Judged:
    """Put what a sheet shows itself to replace out of force, or the sheet itself where a later edition is in force.

    What is not sure is asked, and both stay; what people decided of two sheets stands. What was put out of force
    for an edition and is not shown any more comes back.
    """
    _take_back_unshown(catalogue, digest)
    this, others = read_kin(catalogue, digest)
    if not catalogue.rows("SELECT 1 FROM sheet WHERE digest = ? AND state = 'read'", [digest]):
        return Judged()
    others = [one for one in others if not _is_settled(catalogue, this.digest, one.digest)]
    kin = {one.digest: relate(this, one) for one in others}
    later = next((one for one in others if kin[one.digest] == "earlier"), None)
    if later is not None:
        supersede(catalogue, this, later, who=PROGRAM, why=_why_later(later, this))
        out = why_out_of_force(catalogue, digest)
        return Judged(findings=(out,) if out else ())
    shown = [one for one in others if kin[one.digest] == "later"]
    for one in shown:
        supersede(catalogue, one, this, who=PROGRAM, why=_why_later(this, one))
    return Judged(tuple(one.digest for one in shown), tuple(_ask(this, others, kin)), plain=not shown)


def judge_new(catalogue: Catalogue, digest: str) -> Judged:
    """Judge a sheet that is new and in no decision, as long as no sheet gives way: else nothing is done yet."""
    near = find_near(catalogue, digest)
    if near == {digest}:
        return Judged()
    this, others = read_kin(catalogue, digest, near)
    kin = {one.digest: relate(this, one) for one in others}
    if {"earlier", "later"} & set(kin.values()):
        return Judged(plain=False)
    return Judged(findings=tuple(_ask(this, others, kin)))


def replace_namesakes(catalogue: Catalogue, digest: str, *, who: str, beside: Collection[str]) -> tuple[str, ...]:
    """Put all others of a sheet's file name out of force but those `beside`: a person says so. Return them.

    What put the sheet itself out of force for another one is taken back.
    """
    why = "loaded with --replace"
    for made in read_made(catalogue, sheet=digest, kind="supersede"):
        if made.stands:
            take_back(catalogue, made, who=who, why=why)
    this, others = read_kin(catalogue, digest)
    named = [one for one in others if one.file == this.file and one.digest not in beside]
    for one in named:
        supersede(catalogue, one, this, who=who, why=why)
    return tuple(one.digest for one in named)


def supersede(catalogue: Catalogue, old: Identity, new: Identity, *, who: str, why: str) -> int:
    """Put a sheet out of force for another, on record; return the number of the decision."""
    after = f"superseded by {new.named}"
    entry = Entry(
        kind="supersede", sheet=old.digest, other=new.digest, who=who, why=why, before="in force", after=after
    )
    number = keep(catalogue, entry)
    put_standing(catalogue, old.digest)
    return number


def take_back(catalogue: Catalogue, made: Made, *, who: str, why: str) -> int:
    """Take a decision back, on record; return the number of the undo. What it changed is not put in force yet."""
    entry = Entry(
        kind="undo", sheet=made.sheet, setting=made.setting, other=made.other, undoes=made.number,
        who=who, why=why, before=made.after, after=made.before,
    )  # fmt: skip
    return keep(catalogue, entry)


def why_out_of_force(catalogue: Catalogue, digest: str) -> Finding | None:
    """Return what keeps a sheet of the catalogue out of force; None for one that is in force or may come back."""
    out = _read_out(catalogue, digest)
    if out is None:
        return None
    done = f"{out.who} withdrew it" if out.kind == "withdraw" else f"{out.other_file} took its place by {out.who}"
    way = (
        f"torquary sheet {digest[:SHOWN_DIGITS]} restore"
        if out.kind == "withdraw"
        else f"torquary decisions --undo {out.number}"
    )
    message = f"not in force: {done} on {out.decided_at:%Y-%m-%d} ({out.why}); to take that back: {way} --why …"
    return _remark("sheet_out_of_force", message)


def read_standing(catalogue: Catalogue) -> dict[str, Standing]:
    """Return the standing of every sheet that could be read, by digest."""
    rows = catalogue.rows(
        "SELECT digest, state = 'read' AS in_force, coalesce(reader, 0) AS reader FROM sheet WHERE state <> 'refused'"
    )
    return {
        row["digest"]: Standing(
            in_force=row["in_force"],
            reader=row["reader"],
            finding=None if row["in_force"] else why_out_of_force(catalogue, row["digest"]),
        )
        for row in rows
    }


def read_hurried(catalogue: Catalogue) -> set[str]:
    """Return the digests of the sheets for which there was too little time, to read them whole or at all."""
    rows = catalogue.rows(
        "SELECT DISTINCT sheet FROM finding WHERE setting IS NULL AND code IN ('pages_not_read', 'sheet_too_slow')"
    )
    return {row["sheet"] for row in rows}


def _is_settled(catalogue: Catalogue, one: str, other: str) -> bool:
    """Tell whether a person has said what two sheets are to each other, by a decision or by taking one back."""
    made = (*read_made(catalogue, sheet=one, other=other), *read_made(catalogue, sheet=other, other=one))
    replacing = {each.number for each in made if each.kind == "supersede"}
    return any(
        each.stands and (each.kind in ("beside", "supersede") or (each.undoes in replacing and each.who != PROGRAM))
        for each in made
    )


def _take_back_unshown(catalogue: Catalogue, digest: str) -> None:
    """Take back what this program put out of force beside a sheet and would not any more."""
    kind = "supersede"
    for one in (*read_made(catalogue, sheet=digest, kind=kind), *read_made(catalogue, other=digest, kind=kind)):
        if one.stands and one.who == PROGRAM and one.other is not None:
            old, new = (_read_one(catalogue, sheet) for sheet in (one.sheet, one.other))
            if relate(new, old) != "later":
                take_back(catalogue, one, who=PROGRAM, why="the sheets do not show it any more")
                put_standing(catalogue, one.sheet)


def _read_one(catalogue: Catalogue, digest: str) -> Identity:
    return read_kin(catalogue, digest)[0]


def _why_later(new: Identity, old: Identity) -> str:
    same = "document number" if old.document_number and new.document_number else "title"
    editions = [one.edition or one.edition_date for one in (new, old)]
    return f"the same {same}, and {editions[0]} is later than {editions[1]}"


def _ask(this: Identity, others: list[Identity], kin: Mapping[str, str]) -> list[Finding]:
    """Ask about each sheet that may be an edition of this one, and about those that only share its file name."""
    asked = []
    unclear = [one for one in others if kin[one.digest] == "unclear"]
    named = [one for one in others if kin[one.digest] == "none" and one.file == this.file]
    for code, those, told in (
        ("sheet_edition_unclear", unclear, "may be another edition of"),
        ("sheet_name_shared", named, "has the same file name as"),
    ):
        if those:
            names = ", ".join(one.named for one in those)
            message = f"it {told} {names}, and all stay in force; {_say_ways(this, those[0])}"
            asked.append(_remark(code, message))
    return asked


def _say_ways(this: Identity, other: Identity) -> str:
    one, two = this.digest[:SHOWN_DIGITS], other.digest[:SHOWN_DIGITS]
    return (
        f"if it takes the other's place: torquary sheet {one} replaces {two} --why …; "
        f"if both are right: torquary sheet {one} beside {two} --why …"
    )


def _remark(code: str, message: str) -> Finding:
    assert code in codes()
    return Finding(code=code, message=message, scope="sheet")
