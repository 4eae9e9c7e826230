"""The encoding of a delimited file is found: bytes in, text out, or a refusal by name."""

from __future__ import annotations

import random

import pytest

from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.delimited.encoding import decode

# fmt: off
SHEETS = {
    "German": "Klemme;Querschnitt mm²;Anzugsdrehmoment N·m\r\n"
        "Außenleiter für Gerät;1,5–6;1,2 ± 0,1\r\nPE;10;2½\r\n",
    "French": "Borne;Section mm²;Couple de serrage N·m\r\n"
        "Arrivée à gauche;2,5;1,2\r\nModèle régulé;4;2–2,5\r\n",
    "Polish": "Zacisk;Przekrój żyły mm2;Moment dokręcania Nm\r\n"
        "Przyłącze górne;2,5;1,2\r\nŚruba;4;0,8–1,0\r\n",
    "Czech": "Svorka;Průřez vodiče mm2;Utahovací moment Nm\r\nHorní přívod;2,5;1,2\r\nŠroub;4;0,8–1,0\r\n",
    "Russian": "Клемма;Сечение провода мм2;Момент затяжки Н·м\r\nВвод;2,5;1,2\r\nНуль;4;0,8–1,0\r\n",
    "Japanese": "端子,適合電線 mm2,締付トルク N・m\r\n電源側,2.5,1.2\r\n負荷側,4,0.8~1.0\r\n",
    "Chinese": "端子,导线截面 mm2,拧紧力矩 N·m\r\n进线端子,2.5,1.2\r\n出线端子,4,0.8~1.0\r\n",
}
# fmt: on


@pytest.mark.parametrize(
    ("language", "encoding"),
    [
        ("German", "cp1252"),
        ("German", "utf-8"),
        ("German", "utf-8-sig"),
        ("German", "utf-16"),
        ("German", "utf-16-le"),
        ("German", "utf-16-be"),
        ("German", "utf-32"),
        ("French", "cp1252"),
        ("Polish", "cp1250"),
        ("Czech", "cp1250"),
        ("Russian", "cp1251"),
        ("Russian", "utf-16-be"),
        ("Japanese", "cp932"),
        ("Japanese", "utf-16-le"),
        ("Chinese", "gb18030"),
        ("Chinese", "utf-16-be"),
    ],
)
def test_text_comes_back_whatever_the_encoding(language: str, encoding: str) -> None:
    text = SHEETS[language]
    assert decode(text.encode(encoding)).text.lstrip("\ufeff") == text


def test_signs_of_a_dos_code_page_are_told_from_those_of_windows() -> None:
    text = "Klemme;Leiter mm²;Moment N·m\r\nL1;6;1,2±0,1\r\nN;10;2½\r\nRückseite;4;1,0\r\n"
    assert decode(text.encode("cp850")).text == text


def test_text_encoded_twice_is_read_as_meant_and_said() -> None:
    meant = "Terminal;mm²;N·m\r\n1–3;6;1,2 ± 0,1\r\n"
    decoded = decode(meant.encode("utf-8").decode("cp1252").encode("utf-8"))
    assert decoded.text == meant
    assert [finding.code for finding in decoded.findings] == ["sheet_repaired"]


def test_a_broken_byte_in_utf8_leaves_a_mark_in_its_place_only() -> None:
    raw = "Klemme;mm²;N·m\r\nGerät;2,5;1,2\r\n".encode() + b"X\xe9;4;0,8\r\n"
    assert "X\ufffd;4;0,8" in decode(raw).text


def test_bytes_that_differ_beside_a_figure_are_refused() -> None:
    # 0xA5 beside digits is no sign of a datasheet in any code page that decodes it.
    raw = b"A;B\r\n1\xa52;3\xa54\r\n5\xa56;7\xa58\r\n"
    with pytest.raises(SheetRefused) as refused:
        decode(raw)
    assert refused.value.code == "sheet_unknown_encoding"


def test_noise_is_no_text() -> None:
    raw = random.Random(7).randbytes(4000)
    with pytest.raises(SheetRefused) as refused:
        decode(raw)
    assert refused.value.code in {"sheet_not_a_table", "sheet_unknown_encoding"}


def test_two_nul_bytes_do_not_make_utf16() -> None:
    assert decode(b"Terminal,mm2,Nm\nM8,35,12\x00.5\n").text.count("\x00") == 1
