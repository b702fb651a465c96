"""A machine with a fault that has an engine of its own, because lanes cannot do what it does."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.engines.compiled.lanes.clockwork import Tick
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Value
from latchwork.netlist import ChipId, NetId, Netlist

BY_THE_ORACLE = 400
"""Ticks that come before anything is compiled: most machines with a fault are seen to differ sooner."""


class Alone:
    """``watch``: nets that are compared with the machine without a fault. ``first``: the tick at whose end one
    differed. ``blind``: up to this tick it was a lane, and has been compared."""

    def __init__(
        self,
        netlist: Netlist,
        contents: Mapping[ChipId, bytes],
        seed: int,
        watch: Sequence[NetId] = (),
        *,
        blind: int = -1,
    ) -> None:
        self._made_of = netlist, contents, seed
        self._engine: Oracle | CompiledEngine = (Oracle if blind < BY_THE_ORACLE else CompiledEngine)(
            netlist, contents, seed
        )
        self._past: list[Tick] = []
        self._watch = watch
        self.first: int | None = None
        self.blind = blind

    @property
    def ticks(self) -> int:
        return self._engine.ticks

    def step(self, tick: Tick) -> None:
        """One tick."""
        if isinstance(self._engine, Oracle):
            self._past.append(tick)
            if len(self._past) > BY_THE_ORACLE:
                self._compile()
                return
        self._do(tick)

    def _compile(self) -> None:
        """From power-up on once more, in compiled code."""
        self._engine = CompiledEngine(*self._made_of)
        for tick in self._past:
            self._do(tick)
        self._past = []

    def _do(self, tick: Tick) -> None:
        if tick.hand is None:
            self._engine.tick()
        else:
            self._engine.set_hand(*tick.hand)

    def now(self) -> list[Value]:
        """What the watched nets carry."""
        return self._engine.values(self._watch)

    def value(self, net: NetId) -> Value:
        return self._engine.value(net)

    def state(self, chip: ChipId, name: str) -> int:
        return self._engine.state(chip, name) or 0

    def cell(self, chip: ChipId, address: int, name: str) -> int:
        return self._engine.cell(chip, address, name)


class Trace:
    """What the watched nets of the machine without a fault carry after each tick, worked out as far as is asked for."""

    def __init__(self, healthy: Alone) -> None:
        self._healthy = healthy
        self._values = [healthy.now()]

    def at(self, tick: int, ticks: Sequence[Tick]) -> list[Value]:
        """After a tick of those."""
        while len(self._values) <= tick:
            self._healthy.step(ticks[len(self._values)])
            last, now = self._values[-1], self._healthy.now()
            self._values.append(last if now == last else now)
        return self._values[tick]
