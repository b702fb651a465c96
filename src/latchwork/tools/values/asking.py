"""A sum as a person asks for it: its name, and values such as ``r=4.7k``."""

from __future__ import annotations

import inspect
from collections.abc import Sequence

from latchwork.problems import LatchworkError, Problem
from latchwork.reports.values import ValuesReport
from latchwork.tools.values.series import amount
from latchwork.tools.values.sums import SUMS


def asked(name: str, words: Sequence[str]) -> ValuesReport:
    """Do a sum. Raises LatchworkError: R611 for an unknown sum, R612 and R613 for values."""
    work = SUMS.get(name)
    if work is None:
        raise LatchworkError(Problem("R611", f'there is no sum "{name}"', help=f"there are {', '.join(SUMS)}"))
    parameters = inspect.signature(work).parameters
    values = dict(_value(word, tuple(parameters)) for word in words)
    missing = [key for key, each in parameters.items() if each.default is each.empty and key not in values]
    if missing:
        hint = f"write them as {' '.join(f'{key}=...' for key in missing)}"
        raise LatchworkError(Problem("R612", f"{name} needs {', '.join(missing)}", help=hint))
    try:
        return work(**values)
    except (ZeroDivisionError, ValueError, OverflowError):
        message = f"{name} has no answer for {' '.join(words)}"
        raise LatchworkError(Problem("R613", message, help="look at the sizes of the values")) from None


def _value(word: str, names: tuple[str, ...]) -> tuple[str, float]:
    name, _, text = word.partition("=")
    if name not in names or not text:
        hint = f"its values are {', '.join(names)}: write {names[0]}=4.7k"
        raise LatchworkError(Problem("R612", f'"{word}" is no value of this sum', help=hint))
    value = amount(text)
    if value is None or value <= 0:
        hint = "write a number above 0, with p, n, u, m, k, M or G: 4.7k, 100n, 3m"
        raise LatchworkError(Problem("R613", f'"{text}" is no amount for {name}', help=hint))
    return name, value
