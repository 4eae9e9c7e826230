"""Loading several sheets that are new: written in one go, which takes little longer than one alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from torquary_catalogue.store.batch import Batch
from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.counts import Counts
from torquary_catalogue.store.decisions import may_change
from torquary_catalogue.store.disagreements import note_disagreements
from torquary_catalogue.store.faces import KeptFace, write_faces
from torquary_catalogue.store.identity import forget_known, know_all, tell_ahead
from torquary_catalogue.store.insert import NOT_STORED, Loaded, insert_read, which_are_known, write_row_pictures
from torquary_catalogue.store.sheet_words import note_words
from torquary_catalogue.store.standing import judge_new
from torquary_schema.values import SheetReport


@dataclass(frozen=True, slots=True, kw_only=True)
class NewSheet:
    """A sheet as it was read. `pictures` are PNGs by the id of their setting; `face` is None for one refused."""

    report: SheetReport
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    face: KeptFace | None = None


class _WrittenAlone(Exception):  # noqa: N818  (a fact, no fault)
    """One of the sheets changes something beside itself, or cannot be stored."""


def load_new(
    catalogue: Catalogue, sheets: Sequence[NewSheet], reader: int, alone: Callable[[NewSheet], Loaded]
) -> list[Loaded]:
    """Write sheets as `load_report` would, one after the other, inside `together`; return what became of each.

    Those that are in the catalogue already, or that bring about more than their own rows, are left to `alone`, in
    their turn.
    """
    if len(sheets) < 2:
        return [alone(one) for one in sheets]
    batch = catalogue.batch or Batch()
    know_all(catalogue, batch)
    digests = [one.report.digest for one in sheets]
    if len({*digests}) == len(digests) and not which_are_known(catalogue, digests):
        try:
            with catalogue.transaction():
                return _write(catalogue, batch, sheets, reader)
        except (_WrittenAlone, *NOT_STORED):
            forget_known(batch, digests)
    half = len(sheets) // 2
    return [done for some in (sheets[:half], sheets[half:]) for done in load_new(catalogue, some, reader, alone)]


def _write(catalogue: Catalogue, batch: Batch, sheets: Sequence[NewSheet], reader: int) -> list[Loaded]:
    insert_read(catalogue, [one.report for one in sheets], reader)
    write_faces(catalogue, {one.report.digest: one.face for one in sheets if one.face is not None})
    for one in sheets:
        if one.pictures:
            write_row_pictures(catalogue, one.report, one.pictures)
    read = [one.report.digest for one in sheets if one.report.state != "refused"]
    if may_change(catalogue, read):
        raise _WrittenAlone
    tell_ahead(catalogue, batch, read)
    loaded = [_judge(catalogue, one.report) for one in sheets]
    for digest in read:
        note_words(catalogue, digest)
    note_disagreements(catalogue, read)
    return loaded


def _judge(catalogue: Catalogue, report: SheetReport) -> Loaded:
    """Return what is told of a sheet, judged beside those before it."""
    if report.state == "refused":
        return Loaded(outcome="refused")
    judged = judge_new(catalogue, report.digest)
    if not judged.plain:
        raise _WrittenAlone
    states = Counter(setting.state for setting in report.settings)
    counts = Counts(released=states["released"], held=states["held"], rejected=states["rejected"])
    return Loaded(outcome="loaded", counts=counts, findings=judged.findings)
