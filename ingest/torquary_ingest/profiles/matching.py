"""Which profiles are for a sheet, and what they say of its headings. In doubt none is used, and that is said."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import PurePath

from torquary_ingest.document import Document, Table, TaughtHeading
from torquary_ingest.document.lines import set_lines
from torquary_ingest.face import Face
from torquary_ingest.profiles.names import stands_in
from torquary_ingest.profiles.profile import Explained, Profile
from torquary_schema.units import find_units
from torquary_schema.values import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The profiles that are used for a sheet, and why others that are near it are not."""

    used: tuple[Profile, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def digest(self) -> str:
        """SHA-256 in hex of the profiles used; "" for none."""
        joined = " ".join(sorted(profile.digest for profile in self.used))
        return hashlib.sha256(joined.encode()).hexdigest() if joined else ""


def choose_profiles(profiles: Sequence[Profile], face: Face) -> Choice:
    """Return the profiles of the sheet's maker whose explained headings are all printed on it.

    Two that say different things of one heading are both left out.
    """
    used: list[Profile] = []
    findings: list[Finding] = []
    for profile in profiles:
        strange, missing = _find_strange(profile.maker, face), _find_missing(profile, face)
        if not strange and not missing:
            used.append(profile)
        elif not missing:
            findings.append(_not_used(profile, strange))
        elif not strange and len(missing) < len(profile.headings):
            findings.append(_not_used(profile, why_not(profile, face)))
    clashing = dict(_find_clashes(used))
    findings += [
        Finding(code="profiles_clash", scope="sheet", message=message) for message in dict.fromkeys(clashing.values())
    ]
    return Choice(used=tuple(one for one in used if one.name not in clashing), findings=tuple(findings))


def why_not(profile: Profile, face: Face) -> str:
    """Return in words why a profile is not for a sheet; "" if its maker and headings are the sheet's."""
    missing = ", ".join(repr(one.printed) for one in _find_missing(profile, face))
    return _find_strange(profile.maker, face) or (f"the sheet does not print the heading {missing}" if missing else "")


def _find_missing(profile: Profile, face: Face) -> list[Explained]:
    return [one for one in profile.headings if one.key not in face.texts]


def _find_strange(maker: str, face: Face) -> str:
    """Return why the sheet may be another maker's; "" if it names this one and no other.

    Without any line at its head a sheet is taken at its file's name.
    """
    others = [name for name in face.makers if not stands_in(maker, name)]
    if others:
        return f"the sheet names the maker {others[0]!r}"
    lines = (*face.head, *face.makers) or (PurePath(face.file).stem.replace("_", " "),)
    if any(stands_in(maker, line) for line in lines):
        return ""
    return f"its maker {maker!r} does not stand at the head of the sheet"


def _not_used(profile: Profile, reason: str) -> Finding:
    message = (
        f"layout profile {profile.name} was not used for this sheet: {reason}; correct the profile, or make one "
        "for this sheet with torquary profile"
    )
    return Finding(code="profile_not_used", scope="sheet", message=message)


def _find_clashes(profiles: Sequence[Profile]) -> Iterator[tuple[str, str]]:
    """Yield the name of each profile that says other than another, with the message that names both."""
    for number, one in enumerate(profiles):
        for other in profiles[number + 1 :]:
            for mine in one.headings:
                theirs = next((h for h in other.headings if h.key == mine.key), None)
                if theirs is not None and (mine.field, mine.unit) != (theirs.field, theirs.unit):
                    message = (
                        f"layout profiles {one.name} ({_say(mine)}) and {other.name} ({_say(theirs)}) differ about "
                        f"the heading {mine.printed!r}, and neither was used: correct or remove one of them"
                    )
                    yield one.name, message
                    yield other.name, message


def _say(one: Explained) -> str:
    return f"{one.field} in {one.unit}" if one.unit else one.field


def teach(document: Document, tables: Sequence[Table], choice: Choice) -> tuple[Document, tuple[Finding, ...]]:
    """Return the document with the headings that its profiles explain, and the remarks that say so."""
    if not choice.used:
        return document, choice.findings
    texts = tuple(_texts_outside(document, tables))
    cells = tuple(cell.text for table in tables for cell in table.cells)
    taught: dict[str, TaughtHeading] = {}
    for profile in choice.used:
        for one in profile.headings:
            before = taught.get(one.key)
            name = f"{before.profile} and {profile.name}" if before else profile.name
            others = _other_units(one, texts if one.field.startswith("conductor") else (*texts, *cells))
            taught[one.key] = TaughtHeading(
                printed=one.printed, field=one.field, unit=one.unit, profile=name, other_units=others
            )
    findings = [_used(profile) for profile in choice.used]
    return replace(document, taught=tuple(taught.values())), (*choice.findings, *findings)


def _used(profile: Profile) -> Finding:
    told = ", ".join(f"{one.printed!r} is {_say(one)}" for one in profile.headings)
    message = f"layout profile {profile.name} was used: {told}"
    return Finding(code="heading_taught", scope="sheet", message=message)


def _texts_outside(document: Document, tables: Sequence[Table]) -> Iterator[str]:
    """Yield the lines that stand in no table."""
    for page in document.pages:
        yield from (line.text for line in set_lines(page, tables))
    for table in tables:
        yield from (*table.caption, *table.below)


def _other_units(one: Explained, texts: Sequence[str]) -> tuple[str, ...]:
    """Return the units in the texts that speak against the one a person stated; of a size, if it is not there too.

    Any other torque unit on the sheet does. Sizes are printed in two systems side by side: of them a unit in
    another column speaks for that column alone, one outside the tables for all.
    """
    if not one.unit:
        return ()
    stated = {unit.name for unit in find_units(one.unit)}
    torque = one.field.startswith("torque")
    here = [unit for text in texts for unit in find_units(text)
            if unit.kind in (("torque",) if torque else ("area", "gauge"))]  # fmt: skip
    if not torque and any(unit.name in stated for unit in here):
        return ()
    return tuple(dict.fromkeys(unit.printed for unit in here if unit.name not in stated))
