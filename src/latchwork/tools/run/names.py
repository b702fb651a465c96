"""Names that a person may use of a running machine: registers, ports, buses, nets and control lines."""

from __future__ import annotations

from difflib import get_close_matches

from latchwork.model import Model
from latchwork.netlist import NetId
from latchwork.problems import LatchworkError, Problem


def nets_named(model: Model, name: str) -> tuple[NetId, ...]:
    """The nets under a name, lowest bit first. Raises LatchworkError R101."""
    found = _known(model).get(name)
    if found is None:
        known = [each for each in _known(model) if "[" not in each]
        near = get_close_matches(name, known, n=3)
        hint = f"did you mean {_or(near)}?" if near else "registers, ports, buses, nets and lines have names"
        raise LatchworkError(Problem("R101", f'the machine has nothing called "{name}"', help=hint))
    return found


def _or(names: list[str]) -> str:
    """ "a", "b" or "c"."""
    quoted = [f'"{name}"' for name in names]
    return " or ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)


def _known(model: Model) -> dict[str, tuple[NetId, ...]]:
    """What comes later in the list stands above what comes before."""
    netlist = model.netlist
    return {
        **{net.name: (index,) for index, net in enumerate(netlist.nets)},
        **{line.name: (line.net,) for line in netlist.lines},
        **{bus.name: bus.nets for bus in netlist.buses},
        **{port.name: port.nets for port in model.statements.ports},
        **dict(model.statements.registers),
    }


def traced(model: Model) -> dict[str, tuple[NetId, ...]]:
    """What a trace holds where nothing is chosen: registers, buses, and all nets with a name that are in none."""
    netlist = model.netlist
    found = {**{bus.name: bus.nets for bus in netlist.buses}, **dict(model.statements.registers)}
    within = {net for nets in found.values() for net in nets}
    single = {net.name: (index,) for index, net in enumerate(netlist.nets) if net.declared and index not in within}
    return {**single, **found}
