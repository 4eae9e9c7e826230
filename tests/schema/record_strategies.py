"""Hypothesis strategies for records: any setting and any sheet report that the values allow."""

from decimal import Decimal
from typing import get_args

from hypothesis import strategies as st

from torquary_schema.findings import codes
from torquary_schema.values import (
    Box,
    Conductor,
    Device,
    Drive,
    Finding,
    Place,
    ScopeKind,
    ScopeText,
    Setting,
    SheetReport,
    Terminal,
    Torque,
)
from torquary_schema.vocabulary import keys

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
maybe_text = st.none() | texts
some_text = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=12)
figures = st.decimals(min_value="0.0001", max_value="99999", allow_nan=False, allow_infinity=False)
points = st.floats(min_value=0, max_value=5000, allow_nan=False)
counts = st.none() | st.integers(min_value=1, max_value=5000)
boxes = st.builds(Box, x0=points, top=points, x1=points, bottom=points)
places = st.builds(Place, page=counts, table=counts, row=counts, column=counts, text=texts, box=st.none() | boxes)
findings = st.builds(
    Finding,
    code=st.sampled_from(sorted(codes())),
    message=texts,
    scope=st.sampled_from(["setting", "table", "page", "sheet"]),
    printed=texts,
    place=st.none() | places,
)


scope_texts = st.builds(ScopeText, kind=st.sampled_from(get_args(ScopeKind)), text=some_text, page=counts)


@st.composite
def torques(draw: st.DrawFn) -> Torque:
    """Draw a torque with at least one figure, in order."""
    low, middle, high = sorted(draw(st.tuples(figures, figures, figures)))
    lower, upper = draw(st.sampled_from([(low, high), (low, None), (None, high)]))
    return Torque(
        printed=draw(texts),
        unit_printed=draw(texts),
        min_nm=lower,
        nominal_nm=draw(st.sampled_from([None, middle])),
        max_nm=upper,
    )


@st.composite
def settings(draw: st.DrawFn) -> Setting:
    """Draw a whole record; one without a torque is never released."""
    torque = draw(st.none() | torques())
    states = [state for state in keys("state") if torque is not None or state != "released"]
    sizes = st.none() | figures
    return Setting(
        id=draw(st.text("0123456789abcdef", min_size=8, max_size=8)),
        state=draw(st.sampled_from(states)),
        purpose=draw(st.sampled_from(keys("purpose"))),
        device=draw(
            st.builds(
                Device,
                printed=texts,
                maker=maybe_text,
                family=st.none() | st.sampled_from(keys("family")),
                series=maybe_text,
                model=maybe_text,
                rated_current=maybe_text,
            )
        ),
        terminal=draw(
            st.builds(
                Terminal,
                printed=texts,
                role=st.none() | st.sampled_from(keys("role")),
                clamp=st.none() | st.sampled_from(keys("clamp")),
                thread=maybe_text,
                drive=st.lists(st.builds(Drive, kind=st.sampled_from(keys("drive")), size=texts), max_size=2).map(
                    tuple
                ),
            )
        ),
        conductor=draw(
            st.builds(
                Conductor,
                printed=texts,
                system=st.sampled_from(["mm2", "awg", "kcmil", "diameter", None]),
                min_mm2=sizes,
                max_mm2=sizes,
                min_awg=maybe_text,
                max_awg=maybe_text,
                material=st.lists(st.sampled_from(keys("material")), unique=True).map(tuple),
                stranding=st.lists(st.sampled_from(keys("stranding")), unique=True).map(tuple),
                ferrule=st.none() | st.booleans(),
                count=counts,
            )
        ),
        torque=torque,
        place=draw(places),
        findings=tuple(draw(st.lists(findings, max_size=2))),
        scope=tuple(draw(st.lists(scope_texts, max_size=2))),
        conditions=tuple(draw(st.lists(st.sampled_from(keys("condition")), unique=True, max_size=2))),
    )


reports = st.builds(
    SheetReport,
    file=texts,
    digest=st.just("") | st.text("0123456789abcdef", min_size=64, max_size=64),
    state=st.sampled_from(["read", "refused"]),
    title=texts,
    maker=texts,
    edition=texts,
    pages=st.integers(min_value=0, max_value=3000),
    settings=st.lists(settings(), max_size=2).map(tuple),
    findings=st.lists(findings, max_size=2).map(tuple),
    profiles=st.lists(texts, max_size=2).map(tuple),
)


def plain_setting() -> Setting:
    """Return one ordinary record: 2.50 N·m on a terminal for 1.5 to 6 mm²."""
    figure = Decimal("2.50")
    return Setting(
        id="0123abcd",
        state="released",
        purpose="electrical_terminal",
        device=Device(printed="MX 40", family="mcb", rated_current="40"),
        terminal=Terminal(printed="L1", role="line", thread="M5", drive=(Drive(kind="cross_z", size="2"),)),
        conductor=Conductor(
            printed="1.5–6 mm²",
            system="mm2",
            min_mm2=Decimal("1.5"),
            max_mm2=Decimal("6"),
            material=("copper",),
            stranding=("solid",),
            count=1,
        ),
        torque=Torque(printed="2.50", unit_printed="N·m", min_nm=figure, nominal_nm=figure, max_nm=figure),
        place=Place(page=1, table=1, row=2, box=Box(x0=72.0, top=120.5, x1=300.0, bottom=134.0), text="L1"),
    )
