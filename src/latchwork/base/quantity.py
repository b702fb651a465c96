"""Numbers as builders write them: "10k", "100n", "4.7 M", 2_000_000; time in whole picoseconds.

Prefixes are those of the SI; the value may carry its unit ("10k ohm", "2 MHz").
"""

from __future__ import annotations

import re
from decimal import Decimal

PICOSECONDS = 10**12
_PREFIX = {"p": -12, "n": -9, "u": -6, "µ": -6, "m": -3, "": 0, "k": 3, "K": 3, "M": 6, "G": 9}
_UNITS = ("ohm", "Ω", "Hz", "s", "F", "V", "A")
_NUMBER = re.compile(r"([0-9][0-9_]*(?:\.[0-9]+)?)\s*([pnuµmkKMG]?)(" + "|".join(_UNITS) + r")?")


def quantity(text: str | int | float) -> Decimal:
    """The number that ``text`` stands for, in the base unit. Raises ValueError with a sentence."""
    if isinstance(text, (int, float)):
        return Decimal(str(text))
    found = _NUMBER.fullmatch(text.strip())
    if not found:
        raise ValueError(f'"{text}" is not a quantity; write a number with a prefix, such as "10k" or "100n"')
    return Decimal(found[1].replace("_", "")) * Decimal(10) ** _PREFIX[found[2]]


def picoseconds(text: str | int | float) -> int:
    """A time in whole picoseconds from seconds ("100n", 0.25). Raises ValueError."""
    return int(quantity(text) * PICOSECONDS)


def shown(value: float, unit: str) -> str:
    """``value`` with the SI prefix that leaves one to three digits before the point."""
    for prefix, power in (("G", 9), ("M", 6), ("k", 3), ("", 0), ("m", -3), ("µ", -6), ("n", -9), ("p", -12)):
        if abs(value) >= 10**power:
            return f"{value / 10**power:.4g} {prefix}{unit}"
    return f"{value:.4g} {unit}"
