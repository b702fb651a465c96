"""Preferred values of resistors and capacitors (IEC 60063), and amounts as people write them."""

from __future__ import annotations

import math
import re

E12 = (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2)
E24 = (
    1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0,
    3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1,
)  # fmt: skip
_PREFIXES = {"p": 1e-12, "n": 1e-9, "u": 1e-6, "µ": 1e-6, "m": 1e-3, "": 1.0, "k": 1e3, "M": 1e6, "G": 1e9}
_AMOUNT = re.compile(r"(\d+(?:\.\d*)?|\.\d+)([pnuµmkMG]?)(?:ohm|F|s|Hz|V|A)?")
_CLOSE = 1e-9


def amount(text: str) -> float | None:
    """ "4.7k", "100n", "10uF", "2"; None where it is none of these."""
    found = _AMOUNT.fullmatch(text.strip())
    return float(found[1]) * _PREFIXES[found[2]] if found else None


def at_least(value: float, series: tuple[float, ...]) -> float:
    """The least value of a series that is not below ``value``."""
    decade = 10.0 ** math.floor(math.log10(value) + _CLOSE)
    scaled = value / decade
    for step in series:
        if step >= scaled * (1 - _CLOSE):
            return _rounded(step * decade)
    return _rounded(10 * decade)


def at_most(value: float, series: tuple[float, ...]) -> float:
    """The greatest value of a series that is not above ``value``."""
    decade = 10.0 ** math.floor(math.log10(value) + _CLOSE)
    scaled = value / decade
    return _rounded(max(step for step in series if step <= scaled * (1 + _CLOSE)) * decade)


def _rounded(value: float) -> float:
    return float(f"{value:.6g}")


def written(value: float, unit: str) -> str:
    """ "4.7 kohm", "12.3 ms"; "" as unit leaves the bare number."""
    if not unit:
        return f"{value:.4g}"
    for prefix, size in reversed([(name, size) for name, size in _PREFIXES.items() if name != "µ"]):
        if abs(value) >= size * (1 - _CLOSE):
            return f"{value / size:.4g} {prefix}{unit}"
    return f"{value:.4g} {unit}"
