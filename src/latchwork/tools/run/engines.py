"""Which engine runs a machine: compiled code where there is some, else the oracle, or the one a person asks for."""

from __future__ import annotations

from collections.abc import Mapping

from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Simulation
from latchwork.model import MicroprogramBinding
from latchwork.netlist import ChipId, Netlist
from latchwork.problems import LatchworkError, Problem

COMPILED, ORACLE = "compiled", "oracle"
WAIT = 1500  # ticks by the oracle before anything is compiled: a short run is over by then


def powered(
    netlist: Netlist,
    contents: Mapping[ChipId, bytes],
    seed: int,
    *,
    unknown: bool,
    engine: str | None,
    microprogram: MicroprogramBinding | None = None,
) -> Simulation:
    """The machine under power. ``engine``: "compiled", "oracle", or None for what suits; ``microprogram``: of whose
    control words clocks that come often are compiled. Raises LatchworkError, R107 where compiled code is asked for and
    there is none."""
    if engine == ORACLE or (engine is None and unknown):
        return Oracle(netlist, contents, seed=seed, unknown=unknown)
    try:
        from latchwork.engines.compiled.engine import CompiledEngine
        from latchwork.engines.compiled.errors import NotCompilable
        from latchwork.engines.compiled.hot_clocks import Heat
    except ImportError as missing:
        return _without(netlist, contents, seed, engine, f"a library is missing: {missing.name}")
    try:
        heat = None if microprogram is None else Heat(microprogram)
        return CompiledEngine(netlist, contents, seed=seed, unknown=unknown, wait=WAIT, heat=heat, aside=True)
    except NotCompilable as refusal:
        return _without(netlist, contents, seed, engine, str(refusal))


def _without(
    netlist: Netlist, contents: Mapping[ChipId, bytes], seed: int, engine: str | None, reason: str
) -> Simulation:
    if engine == COMPILED:
        message = f"there is no compiled form: {reason}"
        raise LatchworkError(Problem("R107", message, help="leave --engine out, or write --engine oracle"))
    return Oracle(netlist, contents, seed=seed)
