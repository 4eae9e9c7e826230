"""Bytes of a web page to text: by byte order mark, by what the page declares, else found as for text files."""

from __future__ import annotations

import codecs
import re

from torquary_ingest.openers.delimited.encoding import Decoded, decode
from torquary_schema.values import Finding

_LOOKED_AT = 4096
_DECLARED = re.compile(rb"<meta[^>]{0,300}?charset\s*=\s*[\"']?\s*([A-Za-z0-9_:.-]{2,40})", re.IGNORECASE)
_IN_XML = re.compile(rb"\A\s*<\?xml[^>]{0,200}?encoding\s*=\s*[\"']([A-Za-z0-9_:.-]{2,40})", re.IGNORECASE)

#: What browsers read under these names (WHATWG Encoding Standard, 4.2: labels).
_MEANT = {
    "iso-8859-1": "cp1252", "latin1": "cp1252", "us-ascii": "cp1252", "ascii": "cp1252", "windows-1252": "cp1252",
    "iso-8859-9": "cp1254", "iso-8859-11": "cp874", "tis-620": "cp874", "gb2312": "gb18030", "gbk": "gb18030",
    "shift_jis": "cp932", "shift-jis": "cp932", "sjis": "cp932", "x-sjis": "cp932", "euc-kr": "cp949",
    "ks_c_5601-1987": "cp949", "utf-16": "utf-8", "utf-16le": "utf-8", "utf-16be": "utf-8",
}  # fmt: skip


def decode_page(raw: bytes) -> Decoded:
    """Return the text of a page and what is to be said of its encoding.

    A declaration that the bytes contradict does not count. Raises `SheetRefused` when the encoding cannot
    be told, or when the bytes are no text.
    """
    declared = _find_declared(raw)
    if raw.startswith((codecs.BOM_UTF8, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) or not declared:
        return decode(raw)
    as_utf_8 = _try(raw, "utf-8")
    if declared == "utf-8" or (as_utf_8 is not None and not raw.isascii()):
        if as_utf_8 is None:
            return decode(raw)
        return Decoded(
            text=as_utf_8, encoding="utf-8", findings=() if declared == "utf-8" else (_contradicted(declared),)
        )
    text = _try(raw, declared)
    return decode(raw) if text is None else Decoded(text=text, encoding=declared)


def _find_declared(raw: bytes) -> str:
    """Return the codec of the declared encoding; "" if there is none or it is not known."""
    head = raw[:_LOOKED_AT]
    found = _IN_XML.search(head) or _DECLARED.search(head)
    if not found:
        return ""
    name = found[1].decode("ascii").lower()
    try:
        return codecs.lookup(_MEANT.get(name, name)).name
    except LookupError:
        return ""


def _try(raw: bytes, encoding: str) -> str | None:
    try:
        return raw.decode(encoding)
    except (UnicodeError, LookupError):
        return None


def _contradicted(declared: str) -> Finding:
    return Finding(
        code="sheet_encoding_inferred",
        scope="sheet",
        message=f"the page declares {declared} and is UTF-8; it was read as UTF-8. Compare letters in names",
    )
