"""The same device, terminal and size asked in another language than the sheet's find it, and no other terminal."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from torquary_catalogue.find import find, read_question
from torquary_catalogue.load import load_sheets
from torquary_catalogue.store import Catalogue, open_catalogue

SHEETS = {
    "de": ("Leitungsschutzschalter QB 16", "Klemme;Leiter mm²;Anzugsdrehmoment N·m",
           ("Eingang", "Abgang", "Neutralleiter", "Schutzleiter")),
    "en": ("Miniature circuit breaker QB 16", "Terminal;Conductor mm²;Tightening torque N·m",
           ("Line side", "Outgoing", "Neutral", "Protective conductor")),
    "fr": ("Disjoncteur modulaire QB 16", "Borne;Section mm²;Couple de serrage N·m",
           ("Amont", "Aval", "Neutre", "Conducteur de protection")),
    "es": ("Interruptor automático QB 16", "Borne;Sección mm²;Par de apriete N·m",
           ("Entrada", "Salida", "Neutro", "Conductor de protección")),
    "ja": ("配線用遮断器 QB 16", "端子;電線 mm²;締付トルク N·m", ("電源側", "負荷側", "中性線", "保護導体")),
}  # fmt: skip
FIGURES = (1.5, 1.8, 2.1, 2.4)

ASKED = {
    "de": ("Leitungsschutzschalter", ("Einspeisung", "Abgangsklemme", "N-Leiter", "Schutzleiterklemme")),
    "en": ("circuit breaker", ("supply side", "load terminals", "neutral conductor", "PE")),
    "fr": ("disjoncteur", ("arrivée", "côté charge", "conducteur neutre", "mise à la terre de protection")),
    "es": ("magnetotérmico", ("acometida", "lado carga", "conductor neutro", "tierra de protección")),
    "it": ("interruttore magnetotermico", ("ingresso", "uscita", "conduttore di neutro", "terra di protezione")),
    "nl": ("installatieautomaat", ("voeding", "belastingszijde", "nulleider", "beschermingsleiding")),
    "pl": ("wyłącznik nadprądowy", ("zasilanie", "odpływ", "przewód neutralny", "przewód ochronny")),
    "ja": ("ブレーカ", ("電源側", "負荷側", "中性線", "保護導体")),
}


@pytest.fixture(scope="module", params=SHEETS)
def office(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Catalogue]:
    folder = tmp_path_factory.mktemp(request.param)
    title, headings, terminals = SHEETS[request.param]
    rows = [f"{name};1.5-16;{figure}" for name, figure in zip(terminals, FIGURES, strict=True)]
    sheet = folder / "quay.csv"
    sheet.write_text("\n".join(["Quillhaven", title, headings, *rows]), encoding="utf-8")
    load_sheets(folder / "quay.duckdb", [sheet])
    with open_catalogue(folder / "quay.duckdb") as opened:
        yield opened


@pytest.mark.parametrize("language", ASKED)
@pytest.mark.parametrize("at", range(len(FIGURES)))
def test_a_terminal_is_found_in_every_language(office: Catalogue, language: str, at: int) -> None:
    family, terminals = ASKED[language]
    answer = find(office, read_question(office, f"{family} 10mm2 {terminals[at]}"))
    assert [float(row.max_nm or 0) for row in answer.rows] == [FIGURES[at]]


@pytest.mark.parametrize(
    ("words", "family"),
    [
        ("residual current circuit breaker with overcurrent protection 10mm2", "rcbo"),
        ("mcb neutral bar", "mcb"),
        ("neutral bar", "neutral_bar"),
    ],
)
def test_long_names_of_devices_are_read_whole_and_a_bar_is_a_part_of_one(
    catalogue: Catalogue, words: str, family: str
) -> None:
    question = read_question(catalogue, words)
    assert (question.family, question.words, question.ferrule) == (family, None, None)
