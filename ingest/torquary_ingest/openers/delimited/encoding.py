"""Bytes to text: the encoding is found by strict decoding and by what the characters then say."""

from __future__ import annotations

import codecs
import re
from dataclasses import dataclass

from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.delimited.letters import letter_faults, rare_characters, sign_faults, word_faults
from torquary_schema.values import Finding
from torquary_schema.words import spot

#: Tried in this order; an earlier one wins a draw that does not touch a figure.
CODE_PAGES = (
    "cp1252", "cp1250", "cp1251", "cp1253", "cp1254", "cp1257", "iso8859_2", "iso8859_15", "cp850", "cp852",
    "cp866", "cp874", "mac_roman", "koi8_r", "gb18030", "cp932", "cp949", "big5", "euc_jp",
)  # fmt: skip

_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_WORD = re.compile(r"[^\W\d_]+")
_PIECE = re.compile(r"""[^\s;,|"]+""")
_MULTIBYTE = frozenset({"gb18030", "cp932", "cp949", "big5", "euc_jp"})
_CONTROL = re.compile(r"[\x01-\x08\x0b\x0e-\x1f]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Decoded:
    """Text of a file, the encoding it was read with, and what is to be said about that."""

    text: str
    encoding: str
    findings: tuple[Finding, ...] = ()


def decode(raw: bytes) -> Decoded:
    """Return the text of `raw`; raise `SheetRefused` when it is no text or its encoding cannot be told."""
    for mark, encoding in _MARKS:
        if raw.startswith(mark):
            return _checked(_lenient(raw[len(mark) :], encoding))
    wide = _wide_without_mark(raw)
    if wide:
        return _checked(_lenient(raw, wide))
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError:
        return _checked(_damaged_utf8(raw) or _by_code_page(raw))
    return _checked(_undo_double_encoding(text))


def _checked(decoded: Decoded) -> Decoded:
    controls = len(_CONTROL.findall(decoded.text)) + decoded.text.count("\x00")
    if controls > 8 and controls * 20 > len(decoded.text):
        raise SheetRefused("sheet_not_a_table", "The file is not text; open it and save it as CSV.")
    return decoded


def _lenient(raw: bytes, encoding: str) -> Decoded:
    return Decoded(text=raw.decode(encoding, errors="replace"), encoding=encoding)


def _wide_without_mark(raw: bytes) -> str:
    """Tell UTF-16 without a byte order mark: the zero bytes all stand on one side, line feeds are paired."""
    if raw.count(0) * 10 < len(raw) or len(raw) < 4:
        return ""
    even, odd = raw[0::2].count(0), raw[1::2].count(0)
    if min(even, odd) * 20 > max(even, odd):
        return ""
    encoding = "utf-16-be" if even > odd else "utf-16-le"
    text = raw.decode(encoding, errors="replace")
    broken = len(_CONTROL.findall(text)) + text.count("\x00") + text.count("\ufffd")
    return encoding if broken * 50 <= len(text) else ""


def _undo_double_encoding(text: str) -> Decoded:
    """Read text that was taken for Windows-1252 and encoded a second time ("NÂ·m") as it was meant."""
    if re.search(r"[ÂÃâ][\u0080-\u00bf\u2010-\u203a€‚ƒ„…†‡ˆ‰ŠŒŽ˜™šœžŸ]", text):
        try:
            meant = text.encode("cp1252").decode("utf-8")
        except UnicodeError:
            return Decoded(text=text, encoding="utf-8")
        finding = Finding(
            code="sheet_repaired",
            scope="sheet",
            message="The text had been encoded twice (UTF-8 taken for Windows-1252); it was read as meant.",
        )
        return Decoded(text=meant, encoding="utf-8", findings=(finding,))
    return Decoded(text=text, encoding="utf-8")


def _damaged_utf8(raw: bytes) -> Decoded | None:
    """Read UTF-8 in which a few bytes are broken; each leaves a mark that makes its cell doubtful."""
    text = raw.decode("utf-8", errors="replace")
    broken = text.count("\ufffd")
    good = sum(ord(c) > 0x7F for c in text) - broken
    return Decoded(text=text, encoding="utf-8") if good > 2 * broken else None


def _by_code_page(raw: bytes) -> Decoded:
    scored: list[tuple[int, int, str, str]] = []
    for order, encoding in enumerate(CODE_PAGES):
        try:
            text = raw.decode(encoding)
        except UnicodeDecodeError:
            continue
        scored.append((_faults(text, encoding), order, encoding, text))
    scored.sort()
    beyond = sum(byte > 0x7F for byte in raw)
    if not scored or scored[0][0] * 3 > beyond:
        raise _unknown()
    close = [s for s in scored if s[0] - scored[0][0] <= 1]
    if len({s[3] for s in close}) > 1:
        known = {s[2]: _known_words(s[3]) for s in close}
        close = [s for s in close if known[s[2]] == max(known.values())]
    best = close[0]
    rivals = [s for s in close[1:] if s[3] != best[3]]
    scripts_differ = bool(rivals) and best[2] in _MULTIBYTE
    if scripts_differ or any(_differ_at_figures(best[3], rival[3]) for rival in rivals):
        raise _unknown()
    return Decoded(text=best[3], encoding=best[2], findings=(_inferred(best[2]),) if rivals else ())


def _faults(text: str, encoding: str) -> int:
    words = _WORD.findall(text)
    faults = sign_faults(text) + letter_faults(words) + sum(word_faults(word) for word in words)
    if encoding in _MULTIBYTE:
        # Western bytes can pair up into rare ideographs; known words are what speaks for these pages.
        faults += rare_characters(text, encoding) + (0 if _known_words(text) else 2)
    return faults


def _known_words(text: str) -> int:
    """Count letters beyond ASCII inside known words: a right decoding makes words, a wrong one none."""
    beyond = "\n".join(line for line in text[:20_000].splitlines() if not line.isascii())
    found = [*spot("heading", beyond), *spot("role", beyond)]
    return sum(ord(c) > 0x7F for match in found for c in match.printed)


def _differ_at_figures(one: str, other: str) -> bool:
    """Tell whether two decodings differ in a piece of text (between blanks and delimiters) with a digit."""
    if len(one) != len(other):
        return True
    pieces = ((m.group(), other[m.start() : m.end()]) for m in _PIECE.finditer(one))
    return any(a != b and any(c.isascii() and c.isdigit() for c in a) for a, b in pieces)


def _inferred(encoding: str) -> Finding:
    return Finding(
        code="sheet_encoding_inferred",
        scope="sheet",
        message=f"The file does not say its encoding; it was read as {encoding}. Compare letters in names.",
    )


def _unknown() -> SheetRefused:
    return SheetRefused(
        "sheet_unknown_encoding",
        "The text encoding cannot be told; save the file as UTF-8 and load it again.",
    )
