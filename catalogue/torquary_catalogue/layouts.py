"""Which layout profiles are for which sheets of a load, and whether that changed since they were read."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from torquary_catalogue.store.faces import KeptFace

if TYPE_CHECKING:
    from torquary_ingest.face import Face
    from torquary_ingest.profiles import Profile
    from torquary_ingest.reader import ReadSheet

_MOST_REASONS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class UsedProfile:
    """The files a profile was used for; where there are none, `reasons` say why not, sheet by sheet."""

    name: str
    sheets: tuple[str, ...]
    reasons: tuple[str, ...] = ()


class Layouts:
    """The profiles of one load and what is known of the sheets' faces, by digest."""

    def __init__(self, profiles: tuple[Profile, ...], faces: Mapping[str, KeptFace]) -> None:
        self.profiles = profiles
        self.faces = faces
        self._met: list[Face] = []

    def changed(self, digest: str, file: str) -> bool:
        """Tell whether other profiles are for the sheet than when it was read; its face is met by the way.

        A sheet without a face was read before profiles were; it is read anew if there are any.
        """
        kept = self.faces.get(digest)
        if kept is None:
            return False
        if not self.profiles:
            return bool(kept.profiles)
        if kept.head is None or kept.makers is None or kept.texts is None:
            return True
        from torquary_ingest.face import Face
        from torquary_ingest.profiles.matching import choose_profiles

        face = Face(file=file, head=tuple(kept.head), makers=tuple(kept.makers), texts=frozenset(kept.texts))
        changed = choose_profiles(self.profiles, face).digest != kept.profiles
        if not changed:
            self._met.append(face)
        return changed

    def way_of(self, digest: str) -> dict[str, Any]:
        """Return how a sheet was read; nothing of one that could not be."""
        kept = self.faces.get(digest)
        return {} if kept is None else {"every_page": kept.every_page, "unwitnessed": kept.unwitnessed}

    def meet(self, read: ReadSheet, *, every_page: bool, unwitnessed: bool) -> KeptFace | None:
        """Return what is kept of a sheet that was read; None for one that was refused."""
        face = read.face
        if face is None:
            return None
        kept = KeptFace(
            head=face.head, makers=face.makers, texts=sorted(face.texts), every_page=every_page, unwitnessed=unwitnessed
        )
        if not self.profiles:
            return kept
        from torquary_ingest.profiles.matching import choose_profiles

        self._met.append(face)
        return replace(kept, profiles=choose_profiles(self.profiles, face).digest)

    def account(self, named: Collection[str]) -> tuple[UsedProfile, ...]:
        """Return the profiles that are used for a sheet of this load, and those of the names given."""
        if not self.profiles:
            return ()
        from torquary_ingest.profiles.matching import choose_profiles, why_not

        users: dict[str, list[str]] = {profile.name: [] for profile in self.profiles}
        for face in self._met:
            for profile in choose_profiles(self.profiles, face).used:
                users[profile.name].append(face.file)
        told = []
        for profile in self.profiles:
            reasons = []
            if not users[profile.name]:
                reasons = [f"{face.file}: {why}" for face in self._met if (why := why_not(profile, face))]
            if users[profile.name] or profile.name in named:
                files = tuple(users[profile.name])
                told.append(UsedProfile(name=profile.name, sheets=files, reasons=tuple(reasons[:_MOST_REASONS])))
        return tuple(told)
