"""Prices, which stand under names in shops and lists and say nothing of a terminal."""

from __future__ import annotations

import re

_CODES = r"EUR|USD|GBP|CHF|SEK|NOK|DKK|PLN|CZK|HUF|RON|BGN|TRY|JPY|CNY"  # ISO 4217
_SIGNS = r"[$£¥₠-⃏]|kr\.?|zł|Kč|Ft|lei|лв\.?|руб\.?|грн\.?|元|円|원"
_AMOUNT = r"\d[\d\s.,'’]*(?:[-–—]{1,2})?"
_PRICE = re.compile(rf"(?:{_CODES}|{_SIGNS})\s*{_AMOUNT}|{_AMOUNT}\s*(?:{_CODES}|{_SIGNS})", re.IGNORECASE)


def is_price(text: str) -> bool:
    """Tell whether a text is an amount of money and nothing else: "€ 39.90", "121,00 kr"."""
    return _PRICE.fullmatch(text.strip()) is not None
