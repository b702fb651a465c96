"""Numbers as they are written in a microprogram."""

from __future__ import annotations

import re

_BASES = {"0x": 16, "0b": 2}


def number(text: str) -> int:
    """The value of a number: decimal, 0x or 0b, with underscores, perhaps with a minus sign."""
    plain = re.sub(r"[ \t_]", "", text).lower()
    sign, digits = (-1, plain[1:]) if plain.startswith("-") else (1, plain)
    base = _BASES.get(digits[:2], 10)
    return sign * int((digits[2:] if base != 10 else digits) or "0", base)
