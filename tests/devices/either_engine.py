"""Which engine a test of devices runs: every test is run with each of them."""

from __future__ import annotations

from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Simulation
from latchwork.netlist import Netlist


class Engines:
    def __init__(self) -> None:
        self.compiled = False

    def made(self, netlist: Netlist) -> Simulation:
        """A machine under power, in the engine whose turn it is; compiled code from the first tick on."""
        return CompiledEngine(netlist) if self.compiled else Oracle(netlist)


ENGINES = Engines()
