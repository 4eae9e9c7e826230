"""What a line states for all figures, and what it does not. Sentences are our own."""

from __future__ import annotations

import pytest

from torquary_ingest.scope import read_statement, split_sentences

COPPER = (("copper",), (), None, ("copper_only",))
SAYS = {
    "Use copper conductors only": COPPER,
    "Only copper conductors may be connected. Tighten with a driver.": COPPER,
    "Nur Kupferleiter anschließen. Vor Arbeiten freischalten.": COPPER,
    "Utiliser uniquement des conducteurs en cuivre": COPPER,
    "Collegare al morsetto solo conduttori in rame": COPPER,
    "Utilizar solo conductores de cobre": COPPER,
    "Use apenas condutores de cobre": COPPER,
    "Gebruik uitsluitend koperen geleiders": COPPER,
    "Anvend kun kobberledere": COPPER,
    "Bruk kun kobberledere": COPPER,
    "Använd endast kopparledare": COPPER,
    "Käytä vain kuparijohtimia": COPPER,
    "Stosować wyłącznie przewody miedziane": COPPER,
    "Připojujte pouze měděné vodiče.": COPPER,
    "Использовать только медные провода": COPPER,
    "Sadece bakır iletken kullanın": COPPER,
    "仅限铜导线": COPPER,
    "銅線のみ使用してください": COPPER,
    "구리 전선만 사용하십시오": COPPER,
    "Χρησιμοποιείτε μόνο χάλκινους αγωγούς": COPPER,
    "Use 75 °C copper": (("copper",), (), None, ("conductor_75_c",)),
    "Use 60/75 °C copper wire only": (("copper",), (), None, ("conductor_60_c", "conductor_75_c", "copper_only")),
    "Use copper conductors rated at least 75 °C.": (("copper",), (), None, ("conductor_75_c",)),
    "Apenas condutores de cobre, temperatura admissível +75 °C no mínimo.": (
        ("copper",), (), None, ("conductor_75_c", "copper_only"),
    ),
    "All terminals accept copper conductors rated 75 °C.": (("copper",), (), None, ("conductor_75_c",)),
    "Copper or aluminum conductors, 75 C.": (("copper", "aluminium"), (), None, ("conductor_75_c",)),
    "All figures for solid or stranded conductors": ((), ("solid", "stranded"), None, ()),
    "Alle Werte in N·m für eindrähtige und mehrdrähtige Leiter": ((), ("solid", "stranded"), None, ()),
    "Werte für feindrähtige Leiter mit Aderendhülse, sofern nicht anders angegeben.": ((), ("flexible",), True, ()),
    "with ferrule unless stated otherwise": ((), (), True, ()),
    "rigid only": ((), ("solid",), None, ("solid_only",)),
    "with ferrule only": ((), (), True, ("with_ferrule_only",)),
    "for flexible conductors": ((), ("flexible",), None, ()),
    "Do not use aluminium conductors.": ((), (), None, ("no_aluminium",)),
    "Nicht für Aluminiumleiter": ((), (), None, ("no_aluminium",)),
    "Do not retighten the terminal screws.": ((), (), None, ("no_retightening",)),
    "Nachziehen nicht erforderlich.": ((), (), None, ("no_retightening",)),
    "Os apertos são válidos para condutores de cobre limpos e descarnados a 8 mm.": (("copper",), (), None, ()),
    "Use clean copper conductors stripped to 10–12 mm.": (("copper",), (), None, ()),
    "Зажимы рассчитаны на медные провода.": (("copper",), (), None, ()),
    "Polyamide, V0. Copper conductors.": (("copper",), (), None, ()),
}
SAYS_NOTHING = (
    "Bars are cut from solid brass.",
    "Retighten stranded conductors after the first week of service.",
    "Only flexible conductors may be moved after mounting",
    "Use copper conductors only, if the ambient exceeds 40 °C",
    "Use copper conductors only, except for flexible ones.",
    "These values do not apply to flexible conductors",
    "Sizes of solid conductors up to 4 mm²",
    "Copper conductors to 8 mm",
    "Ambient temperature 60 °C",
    "Retorque aluminium conductors after 24 hours only.",
    "Flexible conductors: 2.5 N·m",
    "",
)


@pytest.mark.parametrize(("text", "said"), SAYS.items(), ids=SAYS)
def test_a_line_read_whole_states_kinds_and_conditions(text: str, said: tuple[object, ...]) -> None:
    found = read_statement(text)
    assert found is not None
    assert (found.material, found.stranding, found.ferrule, found.conditions) == said


@pytest.mark.parametrize("text", SAYS_NOTHING)
def test_a_line_that_is_not_read_whole_states_nothing(text: str) -> None:
    assert read_statement(text) is None


def test_an_exception_goes_with_the_statement() -> None:
    found = read_statement("Use copper conductors only, except at the neutral terminal.")
    assert found is not None
    assert (found.material, found.spared) == (("copper",), {"neutral"})


def test_over_its_figures_a_text_may_name_their_terminals_beside_the_conductors() -> None:
    text = "Neutral terminals, copper conductors only"
    assert read_statement(text) is None
    found = read_statement(text, over=True)
    assert found is not None
    assert found.material == ("copper",)


def test_what_a_text_says_of_terminals_that_it_names_is_for_these_alone() -> None:
    said = read_statement("Use copper conductors only. Main terminals and neutral terminal: copper or aluminium.")
    assert said is not None
    assert said.material == ("copper",)
    assert [(one.material, one.names) for one in said.own] == [
        (("copper", "aluminium"), {"main terminals", "neutral terminal"})
    ]


def test_the_end_of_a_sentence_that_begins_elsewhere_states_nothing() -> None:
    assert read_statement("copper or aluminium, 75 °C.") is None
    assert read_statement("for copper or aluminium, 75 °C") is not None
    assert read_statement("copper conductors only.") is not None


@pytest.mark.parametrize(
    "text",
    [
        "Use copper conductors only. Exception: the QN 80 takes aluminium too.",
        "Χρησιμοποιείτε μόνο χάλκινους αγωγούς. Εξαίρεση: στον QN 80 επιτρέπεται και αλουμίνιο από 16 mm².",
        "Nur Kupferleiter anschließen. Ausnahme: QN 80 auch Aluminium.",
    ],
)
def test_an_exception_in_a_sentence_of_its_own_spares_the_type_that_it_names(text: str) -> None:
    said = read_statement(text)
    assert said is not None
    assert (said.material, said.spared_types) == (("copper",), {"qn 80"})


def test_a_statement_with_an_exception_that_nothing_tells_states_nothing() -> None:
    assert read_statement("Use copper conductors only. Exception: see the label.") is None


def test_a_sentence_ends_behind_a_unit_before_a_figure() -> None:
    text = "For rails of 35 mm. 800 V, copper conductors. Strip 9 mm."
    assert split_sentences(text) == ["For rails of 35 mm.", "800 V, copper conductors.", "Strip 9 mm."]
