"""Ways to damage a sheet: bytes flipped, zeroed and cut off, operators of a PDF's content changed.

`EVERY` maps a name to a function (content, random) -> damaged content, or None where it has nothing to damage.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Callable
from random import Random

from pdfminer.ascii85 import ascii85decode

Mutation = Callable[[bytes, Random], "bytes | None"]

_STREAM = re.compile(rb"(\d+) 0 obj\s*(<<(?:(?!endobj).)*?>>)\s*stream\r?\n(.*?)\r?\n?endstream", re.DOTALL)
_OPERATOR = re.compile(rb"(?<=[\s\])>])(?:Tj|TJ|T\*|Td|TD|Tm|Tf|BT|ET|BMC|BDC|EMC|Do|cm|re|rg|RG|[qQmlSfnwgGWh])(?=\s)")
_OTHERS = (b"Tf", b"re", b"cm", b"Tm", b"Q", b"q", b"ET", b"BT", b"Tx", b"zz", b"T\x00", b"\xff")
_TAKES = {b"Tf": 2, b"re": 4, b"cm": 6, b"Tm": 6, b"Td": 2, b"TD": 2, b"m": 2, b"l": 2, b"rg": 3, b"RG": 3, b"g": 1,
          b"G": 1, b"w": 1, b"Tj": 1, b"TJ": 1, b"Do": 1, b"BMC": 1, b"BDC": 2}  # fmt: skip


def flip_bit(content: bytes, random: Random) -> bytes:
    """Change one bit anywhere."""
    at = random.randrange(len(content))
    return content[:at] + bytes([content[at] ^ (1 << random.randrange(8))]) + content[at + 1 :]


def flip_bytes(content: bytes, random: Random) -> bytes:
    """Put other bytes in eight places."""
    changed = bytearray(content)
    for _ in range(8):
        changed[random.randrange(len(changed))] = random.randrange(256)
    return bytes(changed)


def cut(content: bytes, random: Random) -> bytes:
    """Leave off an end of any length."""
    return content[: random.randrange(1, len(content))]


def cut_little(content: bytes, random: Random) -> bytes:
    """Leave off the last bytes, 60 at most."""
    return content[: -random.randrange(1, min(60, len(content)))]


def zero_run(content: bytes, random: Random) -> bytes:
    """Put 4 to 200 NUL bytes in place of what stands somewhere, as a bad sector does."""
    length = random.randrange(4, min(200, len(content)))
    at = random.randrange(len(content) - length + 1)
    return content[:at] + bytes(length) + content[at + length :]


def zero_end(content: bytes, random: Random) -> bytes:
    """Put NUL bytes in place of the end, as a download that was broken off may leave it."""
    length = random.randrange(1, max(2, len(content) // 3))
    return content[:-length] + bytes(length)


def flip_packed(content: bytes, random: Random) -> bytes | None:
    """Change one byte inside a compressed stream of a PDF."""
    streams = [found for found in _STREAM.finditer(content) if b"FlateDecode" in found[2] and len(found[3]) > 20]
    if not streams:
        return None
    start, end = random.choice(streams).span(3)
    at = random.randrange(start + 2, end - 6)
    other = random.choice([byte for byte in range(33, 117) if byte != content[at]])
    return content[:at] + bytes([other]) + content[at + 1 :]


def lose_object(content: bytes, random: Random) -> bytes | None:
    """Lose a font, form or picture of a PDF: its number becomes that of no object."""
    found = [one for one in re.finditer(rb"/(?:F|Form|Fm|Im|Contents )[\w.+-]*? ?(\d+) 0 R", content)]
    if not found:
        return None
    one = random.choice(found)
    return content[: one.start(1)] + b"9" * len(one[1]) + content[one.end(1) :]


def lose_operator(text: bytes, random: Random) -> bytes | None:
    """Take an operator out of content, its operands being left."""
    found = [one for one in _OPERATOR.finditer(text) if one[0] not in (b"h", b"S", b"f", b"n", b"T*", b"W")]
    if not found:
        return None
    one = random.choice(found)
    return text[: one.start()] + text[one.end() :]


def swap_operator(text: bytes, random: Random) -> bytes | None:
    """Put another operator in place of one, which takes other operands; else it is another sheet, and no damage."""
    found = list(_OPERATOR.finditer(text))
    if not found:
        return None
    one = random.choice(found)
    other = random.choice([name for name in _OTHERS if name != one[0] and _TAKES.get(name, 0) != _TAKES.get(one[0], 0)])
    if _TAKES.get(one[0], 0) == 0 and _TAKES.get(other, 0) == 0:
        return None
    return text[: one.start()] + other + text[one.end() :]


def lose_operand(text: bytes, random: Random) -> bytes | None:
    """Take a number out of content."""
    numbers = list(re.finditer(rb"(?<=\s)-?[\d.]+(?= -?[\d.]+ (?:-?[\d.]+ )*(?:Td|Tm|re|cm|m|l|rg|RG|w)\s)", text))
    if not numbers:
        return None
    one = random.choice(numbers)
    return text[: one.start()] + text[one.end() :]


def zero_content(text: bytes, random: Random) -> bytes | None:
    """Put a run of NUL bytes into content."""
    return zero_run(text, random) if len(text) > 8 else None


def cut_content(text: bytes, random: Random) -> bytes | None:
    """Cut content off inside a text object, or where the graphics state is saved."""
    spans = list(re.finditer(rb"BT\s.*?ET", text, re.DOTALL))
    if not spans:
        return None
    start, end = random.choice(spans).span()
    return text[: random.randrange(start + 2, end - 2)]


def upon_content(mutation: Mutation) -> Mutation:
    """Return the mutation of a PDF that changes one content stream so, and packs it soundly again."""

    def mutate(content: bytes, random: Random) -> bytes | None:
        streams = [(found, text) for found in _STREAM.finditer(content) if _is_content(text := _unpack(found))]
        if not streams:
            return None
        found, text = random.choice(streams)
        changed = mutation(text, random)
        return None if changed is None or changed == text else _replace_stream(content, found, changed)

    return mutate


def _unpack(found: re.Match[bytes]) -> bytes:
    data = found[3]
    if b"ASCII85" in found[2]:
        data = ascii85decode(data)
    if b"FlateDecode" in found[2]:
        data = zlib.decompress(data)
    return data


def _is_content(text: bytes) -> bool:
    return len(re.findall(rb"\s(?:Tj|TJ|Td|Tm)\s", text)) > 3


def _replace_stream(content: bytes, found: re.Match[bytes], text: bytes) -> bytes:
    """Write the stream anew, and the table of objects with the places that come of it."""
    packed = zlib.compress(text)
    entries = re.sub(rb"/(?:Filter\s*(?:\[[^\]]*\]|/\w+)|Length\s+\d+(?: 0 R)?)", b"", found[2])
    head = entries[:-2].rstrip() + b" /Filter /FlateDecode /Length %d >>" % len(packed)
    made = content[: found.start(2)] + head + b"\nstream\n" + packed + b"\nendstream" + content[found.end() :]
    places = {int(one[1]): one.start() for one in re.finditer(rb"(?<![\d])(\d+) 0 obj\b", made)}
    table = re.search(rb"xref\s+0 (\d+)\s", made)
    if table is None:
        return made
    at = made.index(b"xref", table.start())
    trailer = made[made.index(b"trailer", at) :]
    lines = [b"0000000000 65535 f \n"]
    lines += [b"%010d 00000 n \n" % places.get(number, 0) for number in range(1, int(table[1]))]
    trailer = re.sub(rb"startxref\s+\d+", b"startxref\n%d" % at, trailer)
    return made[:at] + b"xref\n0 %d\n" % len(lines) + b"".join(lines) + trailer


OF_FILES: dict[str, Mutation] = {
    "flip_bit": flip_bit, "flip_bytes": flip_bytes, "cut": cut, "cut_little": cut_little, "zero_run": zero_run,
    "zero_end": zero_end,
}  # fmt: skip
OF_PDF: dict[str, Mutation] = {
    "flip_packed": flip_packed, "lose_object": lose_object,
    **{f.__name__: upon_content(f) for f in (lose_operator, swap_operator, lose_operand, zero_content, cut_content)},
}  # fmt: skip
EVERY = OF_FILES | OF_PDF
