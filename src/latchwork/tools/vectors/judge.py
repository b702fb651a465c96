"""One specimen on the oracle, behind the same socket: what it shows is beyond doubt."""

from __future__ import annotations

from collections.abc import Mapping

from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Value
from latchwork.netlist import Board, Chip, Net, Netlist
from latchwork.parts import Direction, Part
from latchwork.reports.vectors import Vector
from latchwork.tools.vectors.tester import Socket

LETTERS = {Value.LOW: "L", Value.HIGH: "H", Value.NOTHING: "Z", Value.UNKNOWN: "?"}
HIGH, LOW = 0, 1  # the rails
AT_REST = {"0": 0, "1": 1, "C": 0, "K": 1}


class Judge:
    """``part`` in the socket, the tester's own if left out. Without ``seed`` what hangs on chance is unknown."""

    def __init__(self, tester: Socket, part: Part | None = None, seed: int | None = None) -> None:
        netlist = in_socket(part or tester.part)
        self._tester = tester
        self._nets = netlist.chips[0].pins
        self._oracle = Oracle(netlist, seed=seed or 0, unknown=seed is None)
        signals = (*tester.inputs, *tester.shared, *tester.outputs)
        self._free: dict[int, int | None] = dict.fromkeys((self._nets[pin] for pin in signals), None)

    def put(self, levels: Mapping[int, int], others: bool = True) -> None:
        """Set pins, and let all others go unless ``others`` is False."""
        self._oracle.force_all((self._free if others else {}) | {self._nets[pin]: on for pin, on in levels.items()})

    def follow(self, vector: Vector) -> None:
        """Do what a vector says."""
        self.put({pin: AT_REST[letter] for pin, letter in enumerate(vector.levels) if letter in AT_REST})
        for pin, letter in enumerate(vector.levels):
            if letter in "CK":
                for _ in range(vector.times):
                    self.put({pin: 1 - AT_REST[letter]}, others=False)
                    self.put({pin: AT_REST[letter]}, others=False)

    def sees(self, pin: int) -> str:
        """L, H, Z, or ? for what is unknown."""
        seen = LETTERS[self._oracle.value(self._nets[pin])]
        return "H" if seen == "Z" and pin in self._tester.pulled_up else seen

    def save(self) -> object:
        return self._oracle.save()

    def restore(self, saved: object) -> None:
        self._oracle.restore(saved)


def in_socket(part: Part) -> Netlist:
    """The part alone, a net at every pin that carries a signal."""
    nets, pins = [Net("high"), Net("low")], []
    for pin in part.pins:
        if pin.direction in (Direction.SUPPLY, Direction.GROUND):
            pins.append(HIGH if pin.direction is Direction.SUPPLY else LOW)
        else:
            pins.append(len(nets))
            nets.append(Net(pin.name))
    chip = Chip("U1", 0, tuple(pins), 0)
    return Netlist("socket", part.family, 5000, (part,), tuple(nets), (chip,), (Board("main"),), (), HIGH, LOW)
