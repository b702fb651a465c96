"""Any netlist that the verifier lets through can be timed, and its supply worked out: nothing fails, nothing hangs."""

from __future__ import annotations

import sys
from pathlib import Path

from hypothesis import given, settings

sys.path.insert(0, str(Path(__file__).parents[1] / "netlist"))

from netlists import netlists

from latchwork.model import Model
from latchwork.netlist import Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.tools.rules.checking import check
from latchwork.tools.supply.reporting import Asked, supply
from latchwork.tools.timing.reporting import timing


@settings(max_examples=150)
@given(netlists())
def test_it_can_be_timed(netlist: Netlist) -> None:
    model = Model(Path(), netlist)
    if netlist.clock != NO_NET:
        report = timing(model)
        assert report.plain.period >= 0
    check(model)


@settings(max_examples=60)
@given(netlists())
def test_its_supply_can_be_worked_out(netlist: Netlist) -> None:
    report = supply(Model(Path(), netlist), Asked(clocks=0))
    assert report.total >= 0
