"""When a run stops: what ``--until`` says, looked up in the machine and the program's labels."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from latchwork.engines.protocol import Simulation
from latchwork.model import Model
from latchwork.netlist import NetId
from latchwork.problems import LatchworkError, Problem
from latchwork.tools.run.names import nets_named

NEVER = "never"

Conditions = tuple[tuple[tuple[NetId, ...], int], ...]


@dataclass(frozen=True)
class Stop:
    """``name`` for the report, ``reason`` in words; ``reached`` is asked after each tick, with whether an
    instruction begins there. ``conditions``: it can only be reached where one of these (nets, number) holds; None
    where there is no saying."""

    name: str
    reason: str
    reached: Callable[[bool], bool]
    conditions: Conditions | None = None


def stop_at(model: Model, simulation: Simulation, until: str, labels: Mapping[str, tuple[str, int]]) -> Stop:
    """``until``: "halt"; "never"; a label of the program (reached where an instruction begins there);
    ``NAME=NUMBER`` of anything that has a name. ``labels``: name -> space and address. Raises LatchworkError."""
    if until == NEVER:
        return Stop("clocks", "", lambda begins: False, ())
    if until == "halt":
        return _halt(model, simulation)
    name, equals, number = until.partition("=")
    if equals:
        return _value(simulation, until, nets_named(model, name.strip()), number.strip())
    if until in labels:
        return _label(model, simulation, until, *labels[until])
    hint = "write halt, never, a label of the program, or NAME=NUMBER with the name of a net, bus or register"
    raise LatchworkError(Problem("R104", f'the program has no label "{until}" to stop at', help=hint))


def _halt(model: Model, simulation: Simulation) -> Stop:
    halts = model.statements.halts
    if not halts:
        hint = "write m.halt_when(net, HIGH) into machine.py, or run with --until never and a number of --clocks"
        raise LatchworkError(Problem("R105", "the machine does not say when it has halted", help=hint))
    names = " or ".join(f"{model.netlist.nets[halt.net].name} is {halt.level}" for halt in halts)
    conditions = tuple(((halt.net,), halt.level) for halt in halts)
    return Stop(
        "halt", f"it halted, {names}", lambda begins: any(simulation.value(h.net) == h.level for h in halts), conditions
    )


def _value(simulation: Simulation, until: str, nets: tuple[NetId, ...], number: str) -> Stop:
    wanted = whole_number(number)
    if wanted is None or not 0 <= wanted < 1 << len(nets):
        message = f'"{until}" can never be reached: the value is a number from 0 to {(1 << len(nets)) - 1}'
        raise LatchworkError(Problem("R103", message, help="numbers are written as 26, 0x1A or 0b11010"))
    return Stop("until", f"{until} was reached", lambda begins: simulation.read(nets) == wanted, ((nets, wanted),))


def whole_number(text: str) -> int | None:
    """Decimal, or 0x, 0b, 0o; None where it is no number."""
    try:
        return int(text, 0)
    except ValueError:
        return None


def _label(model: Model, simulation: Simulation, label: str, space: str, address: int) -> Stop:
    nets = next(found.address for found in model.statements.spaces if found.name == space)
    reached = f"{label} was reached"
    return Stop("until", reached, lambda begins: begins and simulation.read(nets) == address, ((nets, address),))
