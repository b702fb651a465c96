"""Networks of resistors against published answers."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from latchwork.analysis.rails import (
    OHM_PER_CONTACT,
    OHM_PER_INCH_OF_RAIL,
    Network,
    Resistor,
    wire_ohms,
)


def test_a_ladder() -> None:
    """A textbook's ladder of 5, 6, 4, 6, 1 and 2 ohm at 240 V: 30 A from the source, 10 A in the far branch, and 90, 30
    and 20 V at its nodes."""
    resistors = [
        Resistor("source", "n1", 5), Resistor("n1", "0", 6), Resistor("n1", "n2", 4), Resistor("n2", "0", 6),
        Resistor("n2", "n3", 1), Resistor("n3", "0", 2),
    ]  # fmt: skip
    network = Network(resistors, {"source": 240.0, "0": 0.0})
    volts = network.voltages()
    assert [round(volts[node], 9) for node in ("n1", "n2", "n3")] == [90, 30, 20]
    assert network.current(volts, resistors[0]) == pytest.approx(30)
    assert network.current(volts, resistors[-1]) == pytest.approx(10)


@pytest.mark.parametrize(("far", "ohms"), [(7, 5 / 6), (3, 3 / 4), (1, 7 / 12)])
def test_the_cube_of_equal_resistors(far: int, ohms: float) -> None:
    """Twelve resistors of 1 ohm: 5/6 across the cube, 3/4 across a face, 7/12 along an edge (textbooks)."""
    edges = [
        Resistor(str(a), str(b), 1) for a, b in combinations(range(8), 2) if (a ^ b).bit_count() == 1
    ]  # fmt: skip
    assert len(edges) == 12
    network = Network(edges, {"0": 0.0}, {str(far): -1.0})
    assert network.voltages()[str(far)] == pytest.approx(ohms)


def test_a_rail_as_it_was_measured() -> None:
    """5.75 inches with two contacts: 80 milliohm, 0.5 A gives 40 mV (Digi-Key TechForum t/36612)."""
    ohms = 5.75 * OHM_PER_INCH_OF_RAIL + 2 * OHM_PER_CONTACT
    assert ohms == pytest.approx(0.080, rel=0.03)


def test_wire() -> None:
    """22 AWG: 16.14 ohm a thousand feet, 52.95 milliohm a metre (Cirris; ASTM B258)."""
    assert wire_ohms(22, 12_000) == pytest.approx(16.14)
    assert wire_ohms(22, 1 / 0.0254) == pytest.approx(0.05295, rel=1e-3)


@given(st.lists(st.floats(0.01, 100), min_size=1, max_size=12), st.lists(st.floats(0, 3), min_size=12, max_size=12))
def test_a_rail_with_one_feed_is_a_sum(ohms: list[float], drawn: list[float]) -> None:
    """Along a rail each piece drops its ohms times all that is drawn beyond it (Kirchhoff)."""
    nodes = [f"n{number}" for number in range(len(ohms) + 1)]
    pieces = [Resistor(a, b, value) for (a, b), value in zip(pairwise(nodes), ohms, strict=True)]
    loads = dict(zip(nodes[1:], drawn, strict=False))
    volts = Network(pieces, {"n0": 5.0}, loads).voltages()
    expected = 5.0
    for number, value in enumerate(ohms, 1):
        expected -= value * sum(drawn[number - 1 : len(ohms)])
        assert volts[f"n{number}"] == pytest.approx(expected, rel=1e-6, abs=1e-6)


def test_what_hangs_on_nothing() -> None:
    with pytest.raises(ValueError, match="hangs on nothing"):
        Network([Resistor("a", "b", 1)], {}).voltages()
    with pytest.raises(ValueError, match="0 ohm"):
        Network([Resistor("a", "b", 0)], {"a": 1.0}).voltages()
