"""What a person explained of a sheet's headings."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class TaughtHeading:
    """A heading that a person has explained in a layout profile.

    `printed` is its text, `field` what it heads, `unit` the unit of its figures where the sheet prints none
    ("" if the person gave none). `profile` is the name of the profile's file. `other_units` are the spellings
    of units on the sheet that are not `unit`: where there are any, the person's unit is not certain.
    """

    printed: str
    field: str
    unit: str = ""
    profile: str = ""
    other_units: tuple[str, ...] = ()
