"""The picture of the page testifies for what was read from the text layer."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from torquary_ingest.document import Doubt, Rule, Word
from torquary_ingest.witness.claims import Claim, Testimony
from torquary_ingest.witness.habits import agree, is_readable, spell_line
from torquary_ingest.witness.ink import account_for_ink, fold_text
from torquary_ingest.witness.proof import Proofs
from torquary_ingest.witness.recogniser import Recogniser, load_recogniser
from torquary_ingest.witness.scene import InkAccount
from torquary_ingest.witness.view import PageView
from torquary_schema.values import Box

_EDGES = (0.12, 0.45)
_UNWITNESSED = "the figure was not checked against the picture of the page: {}"


class Witness:
    """The witness of one sheet: pages are rendered once, glyphs proved once.

    Open with `Witness.open(path)` in a `with` statement. `recogniser` None means that only ink and shapes
    testify; cells that they cannot settle are then not witnessed.
    """

    def __init__(self, document: Any, recogniser: Recogniser | None) -> None:
        self._document = document
        self._recogniser = recogniser
        self._views: dict[int, PageView] = {}
        self._proofs = Proofs()

    @classmethod
    def open(cls, path: Path | str, *, password: str = "", recogniser: bool = True) -> Witness:
        """Open a PDF. `recogniser` False leaves the optical recogniser out even where it is installed.

        Raises `pypdfium2.PdfiumError` for a file that cannot be opened.
        """
        import pypdfium2

        document = pypdfium2.PdfDocument(str(path), password=password or None)
        document.init_forms()
        return cls(document, _Late() if recogniser else None)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Free the pages and the file."""
        for view in self._views.values():
            view.close()
        self._views.clear()
        self._document.close()

    def check(self, page: int, boxes_and_words: Sequence[Claim], rules: Sequence[Rule] = ()) -> tuple[Testimony, ...]:
        """Return one testimony a claim, in order. `page` counts from 1; `rules` are the page's lines.

        Raises `IndexError` for a page that the file does not have.
        """
        claims = list(boxes_and_words)
        if not claims:
            return ()
        view = self._view(page)
        view.prepare(_whole(claims))
        accounts = [account_for_ink(view, claim, tuple(rules)) for claim in claims]
        answers = {at: self._judge(account) for at, account in enumerate(accounts)}
        for chosen in (self._scouts, self._rest):
            open_ones = chosen(answers, accounts)
            if open_ones:
                self._recognise(view, claims, accounts, open_ones, answers)
                for at, known in list(answers.items()):
                    if known is None:
                        answers[at] = self._judge(accounts[at])
        return tuple(answers[at] or _untold(accounts[at]) for at in range(len(claims)))

    def _view(self, page: int) -> PageView:
        if page not in self._views:
            if not 1 <= page <= len(self._document):
                raise IndexError(f"page {page} of {len(self._document)}")
            self._views[page] = PageView(self._document[page - 1])
        return self._views[page]

    def _judge(self, account: InkAccount) -> Testimony | None:
        """Settle a claim by ink and shapes alone; None leaves it open."""
        if account.doubts:
            return Testimony(agrees=False, doubts=tuple(account.doubts), means="ink")
        verdicts = [self._proofs.judge(glyph, shape) for glyph, shape in account.shapes]
        seen = "".join(verdict.seen for verdict in verdicts)
        lies = [verdict.doubt for verdict in verdicts if verdict.doubt is not None]
        if lies:
            return Testimony(agrees=False, doubts=tuple(lies[:1]), means="proved glyph", seen=seen)
        if account.unsure or account.joined or not account.shapes or not all(verdict.proved for verdict in verdicts):
            return None
        self._proofs.learn(account.shapes)
        return Testimony(agrees=True, means="proved glyph", seen=seen)

    def _scouts(self, answers: dict[int, Testimony | None], accounts: list[InkAccount]) -> list[int]:
        """Choose open claims so that each unproved glyph is recognised once: the others may then follow."""
        new: set[tuple[str, str]] = set()
        chosen = []
        for at, known in answers.items():
            if known is None and not accounts[at].unsure:
                keys = {(g.font, g.char) for g, s in accounts[at].shapes if not self._proofs.judge(g, s).proved}
                if keys - new:
                    new |= keys
                    chosen.append(at)
        return chosen

    def _rest(self, answers: dict[int, Testimony | None], accounts: list[InkAccount]) -> list[int]:
        return [at for at, known in answers.items() if known is None]

    def _recognise(
        self,
        view: PageView,
        claims: list[Claim],
        accounts: list[InkAccount],
        chosen: list[int],
        answers: dict[int, Testimony | None],
    ) -> None:
        """Read the chosen claims in one batch, line by line; lines that differ are read once more, larger."""
        if self._recogniser is None:
            return
        lines = [(at, line) for at in chosen for line in _lines(claims[at].words)]
        seen: dict[int, str] = {}
        for edge in _EDGES:
            again = [n for n, (_, line) in enumerate(lines) if not agree(spell_line(line), seen.get(n, ""))]
            texts = self._recogniser.read([_upright(view, lines[n][1], edge) for n in again])
            if len(texts) != len(again):
                return
            for n, text in zip(again, texts, strict=True):
                if n not in seen or agree(spell_line(lines[n][1]), text):
                    seen[n] = text
        for at in chosen:
            mine = [(line, seen[n]) for n, (owner, line) in enumerate(lines) if owner == at]
            answers[at] = self._compare(claims[at], accounts[at], mine)

    def _compare(self, claim: Claim, account: InkAccount, lines: list[tuple[list[Word], str]]) -> Testimony:
        seen = "\n".join(text for _, text in lines)
        live = "".join(word.text for word in claim.words)
        if sorted(fold_text(live)) != sorted(fold_text(claim.text)):
            return _untold(account, f"the cell's words {live!r} are not its text {claim.text!r}")
        if all(agree(spell_line(line), text) for line, text in lines):
            if account.joined:
                return _untold(account, "ink runs from one character to the next")
            if not account.unsure:
                self._proofs.learn(account.shapes)
            return Testimony(agrees=True, means="recogniser", seen=seen)
        message = f"the text layer says {claim.text!r}, the picture of the page reads {seen!r}"
        doubt = Doubt(code="text_differs_from_picture", message=message)
        return Testimony(agrees=False, doubts=(doubt,), means="recogniser", seen=seen)


class _Late:
    """The installed recogniser, loaded when it is first needed; reads nothing where none is installed."""

    def read(self, lines: Sequence[Any]) -> list[str]:
        loaded = load_recogniser()
        return loaded.read(lines) if loaded is not None else []


def _untold(account: InkAccount, reason: str = "") -> Testimony:
    reason = reason or "; ".join(account.unsure) or "its glyphs are not known and no recogniser is installed"
    doubt = Doubt(code="not_witnessed", message=_UNWITNESSED.format(reason))
    return Testimony(agrees=None, doubts=(doubt,), means="ink")


def _whole(claims: list[Claim]) -> Box:
    box = claims[0].box
    for claim in claims:
        for part in (claim.box, *(word.box for word in claim.words)):
            box = box.union(part)
    return Box(x0=box.x0 - 4, top=box.top - 4, x1=box.x1 + 4, bottom=box.bottom + 4)


def _lines(words: tuple[Word, ...]) -> list[list[Word]]:
    """Sort words into printed lines: the same turn and overlapping across the line."""
    lines: list[list[Word]] = []
    for word in words:
        if not is_readable(word.text):
            continue
        for line in lines:
            if word.turn == line[-1].turn and _beside(line[-1].box, word.box, word.turn):
                line.append(word)
                break
        else:
            lines.append([word])
    return [sorted(line, key=_along) for line in lines]


def _beside(one: Box, other: Box, turn: int) -> bool:
    if turn in (90, 270):
        return min(one.x1, other.x1) - max(one.x0, other.x0) > 0.5 * min(one.width, other.width)
    return min(one.bottom, other.bottom) - max(one.top, other.top) > 0.5 * min(one.height, other.height)


def _along(word: Word) -> float:
    return {0: word.box.x0, 90: word.box.top, 180: -word.box.x1, 270: -word.box.bottom}[word.turn]


def _upright(view: PageView, line: list[Word], edge: float) -> Any:
    """Return the grey picture of a line and `edge` ems round it, turned so that it reads left to right."""
    import numpy as np

    box = line[0].box
    for word in line:
        for part in (word.box, *(mark.box for mark in word.marks if mark.box is not None)):
            box = box.union(part)
    by = edge * max(word.size for word in line) + 0.5
    picture = view.picture(Box(x0=box.x0 - by, top=box.top - by, x1=box.x1 + by, bottom=box.bottom + by))
    return np.rot90(picture.grey, line[0].turn // 90)
