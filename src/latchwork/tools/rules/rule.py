"""What a rule is: a module with its page as docstring, a code, a severity, and a function that finds problems."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from latchwork.model import Model
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts

HEADINGS = ("What it finds", "Why it matters", "Example", "What to do", "Sources")
"""Of every page, in this order."""


@dataclass(frozen=True)
class Rule:
    """``severity``: the worst that it reports. ``check`` gives the problems of a model."""

    code: str
    title: str
    severity: Severity
    page: str
    check: Callable[[Model, Facts], Iterable[Problem]]
