"""Mistakes in machine.py: always with the line that wrote them, and what would fit."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from latchwork.base.position import Position
from latchwork.design.place import here
from latchwork.problems import Label, LatchworkError, Problem


def mistake(code: str, message: str, *, help: str = "", at: Position | None = None, earlier: Position | None = None,
            earlier_text: str = "") -> LatchworkError:  # fmt: skip
    """The error to raise; it points at the user's line, or ``at``. ``earlier``: a second place that matters."""
    labels = [Label(at or here())]
    if earlier:
        labels.append(Label(earlier, earlier_text))
    return LatchworkError(Problem(code, message, tuple(labels), help))


def near(name: str, known: Iterable[str]) -> str:
    """A help sentence with names that look like ``name``; else a list of those that exist, if they are few."""
    known = list(known)
    folded = {each.casefold(): each for each in reversed(known)}
    found = [folded[each] for each in get_close_matches(name.casefold(), folded, n=3)]
    if found:
        return f"did you mean {either(found)}?"
    return f"there is {listed(known)}" if 0 < len(known) <= 12 else ""


def either(words: list[str]) -> str:
    """``"a"``, ``"a" or "b"``, ``"a", "b" or "c"``."""
    quoted = [f'"{word}"' for word in words]
    return " or ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)


def listed(words: Iterable[str]) -> str:
    return ", ".join(words)


def kind_of(value: object) -> str:
    """What a value is, in words for a message."""
    if value is None:
        return "nothing (None)"
    if isinstance(value, str):
        return f'the text "{value}"'
    described = getattr(value, "described", None)
    if isinstance(described, str) and not isinstance(value, type):
        return described
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return f"the number {value!r}"
    return repr(value) if isinstance(value, bool) else f"a {type(value).__name__}"
