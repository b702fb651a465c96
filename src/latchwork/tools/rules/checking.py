"""``check``: every rule over a model, in one report."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager

from latchwork.model import Model
from latchwork.problems import Severity
from latchwork.reports.check import CheckReport
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.registry import RULES

_DEPTH = 100_000  # nested calls: some for each gate of the longest path, all in Python


def check(model: Model) -> CheckReport:
    """What all rules find, in the order of their codes and of the places in the source."""
    facts = Facts(model)
    with _deep_calls():
        found = [
            problem
            for rule in RULES
            for problem in sorted(rule.check(model, facts), key=lambda problem: (problem.position, problem.message))
        ]
    counts = Counter(problem.severity for problem in found)
    numbers = {severity.value: counts[severity] for severity in Severity}
    return CheckReport(model.netlist.name, tuple(found), numbers, tuple(rule.code for rule in RULES))


@contextmanager
def _deep_calls() -> Iterator[None]:
    before = sys.getrecursionlimit()
    sys.setrecursionlimit(max(before, _DEPTH))
    try:
        yield
    finally:
        sys.setrecursionlimit(before)
