"""What parts of a leaflet in several languages say alike is one record."""

from __future__ import annotations

from decimal import Decimal

import pytest

from torquary_ingest.checks.in_languages import join_languages
from torquary_ingest.skeleton.language_parts import LanguagePart
from torquary_schema.values import Box, Conductor, Device, Place, Setting, Terminal, Torque

PARTS = tuple(LanguagePart(language=one, page=1, x0=x0, top=40.0) for one, x0 in (("en", 50.0), ("fr", 300.0)))


def said(x0: float, stranding: tuple[str, ...]) -> Setting:
    figure = Decimal("0.6")
    return Setting(
        id=f"at {x0}",
        state="released",
        purpose="electrical_terminal",
        place=Place(page=1, box=Box(x0=x0, top=80.0, x1=x0 + 90, bottom=90.0), text="A1, A2"),
        device=Device(printed="Vellmar RT 22"),
        terminal=Terminal(printed="A1, A2"),
        conductor=Conductor(printed="0.5–2.5", max_mm2=Decimal("2.5"), stranding=stranding),
        torque=Torque(printed="0.6", unit_printed="N·m", min_nm=figure, nominal_nm=figure, max_nm=figure),
    )


@pytest.mark.parametrize(("other", "count"), [(("flexible",), 1), (("stranded",), 1), (("solid",), 2)])
def test_souple_is_what_another_language_calls_stranded(other: tuple[str, ...], count: int) -> None:
    settings = said(50.0, ("stranded",)), said(300.0, other)
    assert len(join_languages(settings, PARTS)) == count
