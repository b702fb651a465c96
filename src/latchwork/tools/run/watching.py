"""What a run has to see of every clock, so that all others may run by."""

from __future__ import annotations

from latchwork.engines.compiled.watching import Watch
from latchwork.model import Model
from latchwork.netlist.netlist import NO_NET
from latchwork.tools.run.counting import delay_of, first_addresses
from latchwork.tools.run.stops import Stop

WIDEST = 20  # address lines of a control store in which beginnings are counted by a table


def watch_for(model: Model, stop: Stop) -> Watch | None:
    """Output ports by what makes them take a value, conditions of the stop, beginnings of instructions; None where a
    run has to see every clock."""
    counted = model.control.address_nets if model.control else ()
    if stop.conditions is None or len(counted) > WIDEST:
        return None
    ports = [port for port in model.statements.ports if port.direction == "out"]
    changing = [net for port in ports for net in (port.nets if port.take == NO_NET else (port.take,))]
    starts = first_addresses(model.control) if model.control else frozenset[int]()
    return Watch(tuple(dict.fromkeys(changing)), stop.conditions, tuple(counted), starts, delay_of(model) > 0)
