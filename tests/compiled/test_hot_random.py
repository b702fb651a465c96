"""Random netlists, some of their states taken for a sequencer, in hot code and in the oracle.

No machine has such a sequencer; but folding a clock must be right for whatever is known of it.
"""

from __future__ import annotations

import os

import pytest
from lockstep import Lockstep
from random_netlists import contents_for, random_netlist
from wide_netlists import wide_netlist

from latchwork.engines.compiled import hot_clocks
from latchwork.engines.compiled.clock_form import ClockForm, OneClock
from latchwork.engines.compiled.hot_clocks import Heat
from latchwork.model import MicroprogramBinding
from latchwork.netlist import Netlist

COUNT = int(os.environ.get("LATCHWORK_NETLISTS", "50")) // 5
SOON = Heat(MicroprogramBinding("", (), ()), start=8, samples=24, aside=False)


@pytest.fixture
def any_two_states(monkeypatch: pytest.MonkeyPatch) -> None:
    take_any_two_states(monkeypatch)


def take_any_two_states(monkeypatch: pytest.MonkeyPatch) -> None:
    """For the states of a sequencer."""

    def two(clock: OneClock, form: ClockForm, microprogram: MicroprogramBinding) -> tuple[int, ...]:
        narrow = [name for name, end in form.ends.items() if name.startswith("slots.") and end.width <= 4]
        return tuple(sorted(int(name[6:]) for name in narrow[:2]))

    monkeypatch.setattr(hot_clocks, "sequencing_slots", two)


def compared_hot(netlist: Netlist, contents: dict[int, bytes], seed: int) -> Lockstep:
    pair = Lockstep(netlist, contents, seed, SOON)
    pair.compiled.worth_it = 1
    for clocks in (1, 9, 60, 1, 40, 5):
        pair.run(clocks)
        pair.compare_states()
    return pair


@pytest.mark.usefixtures("any_two_states")
def test_random_netlists() -> None:
    hot = 0
    for number in range(300, 300 + COUNT):
        netlist = random_netlist(number, 4 + number % 12)
        hot += compared_hot(netlist, contents_for(netlist), number).compiled.hot_clocks
    assert hot > 10 * COUNT


@pytest.mark.usefixtures("any_two_states")
def test_wide_netlists() -> None:
    pairs = [compared_hot(wide_netlist(number), {}, number) for number in range(COUNT)]
    assert sum(pair.compiled.hot_clocks for pair in pairs) > COUNT  # their states seldom come again
