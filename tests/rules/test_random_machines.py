"""Twenty random machines: nothing is found in them, and of each seeded mistake exactly the right thing.

Outside reference: what each mistake is, is common practice; the pages of the rules name sources of the figures.
"""

from __future__ import annotations

import pytest
from random_machines import MISTAKES, machine

from latchwork.tools.rules.checking import check


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda mistake: mistake or "clean")
@pytest.mark.parametrize("seed", range(20))
def test_exactly_the_right_finding(seed: int, mistake: str) -> None:
    report = check(machine(seed, mistake))
    assert {problem.code for problem in report.problems} == MISTAKES[mistake], [p.message for p in report.problems]
