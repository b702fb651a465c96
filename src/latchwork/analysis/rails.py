"""Voltages and currents in a network of resistors: nodes at fixed voltages, and nodes that draw a current.

Nodal analysis (Kirchhoff's current law at each free node), solved by elimination.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

OHM_PER_INCH_OF_RAIL = 0.011
OHM_PER_CONTACT = 0.009
"""A new solderless board: rail metal 11 milliohm an inch, 18 milliohm for two contacts (measured: Digi-Key TechForum
t/36612, which also has 80 milliohm for 5.75 inches with their contacts)."""
OHM_PER_1000_FEET = {20: 10.15, 22: 16.14, 24: 25.67, 26: 40.81, 28: 64.9}
"""Solid copper by AWG at 20 degC (Cirris table; NBS Handbook 100, ASTM B258)."""


@dataclass(frozen=True)
class Resistor:
    a: str
    b: str
    ohms: float


@dataclass
class Network:
    """``fixed``: node -> volts; ``drawn``: node -> amperes that leave the network there."""

    resistors: Sequence[Resistor]
    fixed: Mapping[str, float]
    drawn: Mapping[str, float] = field(default_factory=dict)

    def voltages(self) -> dict[str, float]:
        """Volts at every node. ValueError where a node hangs on nothing fixed, or a resistor is not above 0 ohm."""
        nodes = dict.fromkeys(node for item in self.resistors for node in (item.a, item.b))
        free = [node for node in nodes if node not in self.fixed]
        index = {node: number for number, node in enumerate(free)}
        rows: list[dict[int, float]] = [{} for _ in free]
        right = [-self.drawn.get(node, 0.0) for node in free]
        for item in self.resistors:
            if item.ohms <= 0:
                raise ValueError(f"a resistor of {item.ohms} ohm from {item.a} to {item.b}")
            for here, there in ((item.a, item.b), (item.b, item.a)):
                self._couple(rows, right, index, (here, there, 1 / item.ohms))
        return {**self.fixed, **dict(zip(free, _eliminated(rows, right), strict=True))}

    def _couple(
        self, rows: list[dict[int, float]], right: list[float], index: Mapping[str, int], way: tuple[str, str, float]
    ) -> None:
        here, there, conductance = way
        if here not in index:
            return
        row = index[here]
        rows[row][row] = rows[row].get(row, 0.0) + conductance
        if there in index:
            rows[row][index[there]] = rows[row].get(index[there], 0.0) - conductance
        else:
            right[row] += conductance * self.fixed[there]

    def current(self, voltages: Mapping[str, float], item: Resistor) -> float:
        """Amperes from ``a`` to ``b``."""
        return (voltages[item.a] - voltages[item.b]) / item.ohms


def _eliminated(rows: list[dict[int, float]], right: list[float]) -> list[float]:
    """Gauss on rows that hold only what is not 0; the matrix is symmetric and positive, so no pivots are sought."""
    for pivot, row in enumerate(rows):
        if abs(row.get(pivot, 0.0)) < 1e-15:
            raise ValueError("a part of the network hangs on nothing")
        for below in [column for column in row if column > pivot]:
            factor = rows[below].get(pivot, 0.0) / row[pivot]
            if factor:
                for column, value in row.items():
                    if column >= pivot:
                        rows[below][column] = rows[below].get(column, 0.0) - factor * value
                right[below] -= factor * right[pivot]
    found = [0.0] * len(rows)
    for pivot in range(len(rows) - 1, -1, -1):
        known = sum(value * found[column] for column, value in rows[pivot].items() if column > pivot)
        found[pivot] = (right[pivot] - known) / rows[pivot][pivot]
    return found


def wire_ohms(gauge: int, inches: float) -> float:
    """A wire of an American gauge. KeyError for one that is not in the table."""
    return OHM_PER_1000_FEET[gauge] * inches / 12_000
