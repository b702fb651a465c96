"""How a memory is written and read, worked out from its behaviour, and the walk over its address lines.

A byte is written to address 0 and to every address with a single bit, then all are read back; then the same with
the opposite bytes. So an address line that is stuck or never arrives shows as a byte in the wrong place.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Generator, Iterator
from itertools import pairwise, product

from latchwork.analysis.one_part.lanes_bench import LanesBench
from latchwork.analysis.one_part.program import Program, nodes, pins_read
from latchwork.logic import Expression, Operation
from latchwork.logic.evaluate import mask
from latchwork.parts import Memory
from latchwork.tools.vectors.bench import Act
from latchwork.tools.vectors.tester import Socket

MOST_CONTROLS = 6
Controls = tuple[int, ...]


def march(tester: Socket) -> Iterator[Act]:
    """The walk for a part with a memory that one port writes; nothing for others."""
    memories = tester.part.behaviour.memories
    if len(memories) != 1 or len(memories[0].writes) != 1 or tester.part.behaviour.registers:
        return
    ways = _Ways(tester, memories[0])
    now: dict[int, int] = {}
    for act in ways.walk() if ways.usable else ():
        yield Act({pin: level for pin, level in act.levels.items() if now.get(pin, 0) != level})
        now = act.levels


class _Ways:
    """Levels of the control pins under which the memory is idle, written, read."""

    def __init__(self, tester: Socket, memory: Memory) -> None:
        self._tester = tester
        self._write = memory.writes[0]
        self._width, self._address_width = memory.width, memory.address_width
        part = tester.part
        self._address = _pins_of(tester, self._write.address)
        self._data = _pins_of(tester, self._write.data)
        named = {*self._address, *self._data}
        self._controls = [pin for pin in tester.inputs if pin not in named]
        self.usable = len(self._controls) <= MOST_CONTROLS and bool(self._address and self._data)
        if self.usable:
            self._modes = {levels: self._mode(Program(part), levels) for levels in self._combinations()}
            self._start = (0,) * len(self._controls)
            self.usable = {"idle", "write", "read"} <= set(self._modes.values())

    def _combinations(self) -> list[Controls]:
        return list(product((0, 1), repeat=len(self._controls)))

    def _mode(self, program: Program, levels: Controls) -> str:
        bench = LanesBench(program, 1)
        bench.put(dict(zip(self._controls, levels, strict=True)))
        strobe = bench.value(program.slots[self._write.strobe][0])
        shared = set(self._data) & set(self._tester.shared)
        shows = any(bench.pin(pin)[0] for pin in (shared or self._tester.outputs))
        return "write" if strobe and not shows else "both" if strobe else "read" if shows else "idle"

    def walk(self) -> Iterator[Act]:
        addresses = [0, *(1 << bit for bit in range(self._address_width))]
        at = yield from self._go(self._start, "idle", 0, 0)
        for flip in (0, mask(self._width)):
            for number, address in enumerate(addresses):
                data = _byte(number, self._width) ^ flip
                at = yield from self._go(at, "write", address, data)
                at = yield from self._go(at, "idle", address, data)
            for address in addresses:
                at = yield from self._go(at, "read", address, 0)
                at = yield from self._go(at, "idle", address, 0)

    def _go(self, at: Controls, mode: str, address: int, data: int) -> Generator[Act, None, Controls]:
        """Address and data first, then one control pin after the other to the nearest levels of the mode."""
        yield self._act(at, address, data)
        path = self._path(at, mode)
        for _, levels in pairwise(path):
            yield self._act(levels, address, data)
        return path[-1]

    def _path(self, at: Controls, mode: str) -> list[Controls]:
        """Never through a write or a fight on the way."""
        waiting, seen = deque([[at]]), {at}
        while waiting:
            path = waiting.popleft()
            if self._modes[path[-1]] == mode:
                return path
            for place in range(len(at)):
                levels = (*path[-1][:place], 1 - path[-1][place], *path[-1][place + 1 :])
                if levels not in seen and self._modes[levels] in ("idle", mode, self._modes[at]):
                    seen.add(levels)
                    waiting.append([*path, levels])
        return [at]

    def _act(self, controls: Controls, address: int, data: int) -> Act:
        levels = dict.fromkeys((*self._tester.inputs, *self._tester.shared), 0)
        levels |= dict(zip(self._controls, controls, strict=True))
        levels |= {pin: address >> bit & 1 for bit, pin in enumerate(self._address)}
        levels |= {pin: data >> bit & 1 for bit, pin in enumerate(self._data)}
        return Act(levels)


def _pins_of(tester: Socket, expression: Expression) -> list[int]:
    """The pins of an expression that is no more than pins side by side."""
    plain = {Operation.VARIABLE, Operation.CONCAT, Operation.SLICE}
    if any(node.operation not in plain for node in nodes([expression])):
        return sorted(pins_read(tester.part, [expression]))
    found: list[int] = []
    if expression.operation is Operation.VARIABLE:
        return list(tester.part.ports.get(str(expression.data), ()))
    for argument in expression.args:
        found += _pins_of(tester, argument)
    return found


def _byte(number: int, width: int) -> int:
    """Bytes in which neighbours differ in many bits."""
    return (number * 0x9D + 0x35) & mask(width)
