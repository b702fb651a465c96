"""Which states tell the control word: step, opcode, micro-address, control register: what control lines hang on.

Flags are left out, where they come to the control store as conditions: a word that hangs on them becomes a choice.
"""

from __future__ import annotations

from collections.abc import Iterable

from latchwork.engines.compiled.clock_form import ClockForm, OneClock
from latchwork.engines.compiled.pool import Pool
from latchwork.logic import Expression, Operation
from latchwork.model import MicroprogramBinding

WIDEST = 16
"""A state of more bits is data, whatever hangs on it."""


def sequencing_slots(clock: OneClock, form: ClockForm, microprogram: MicroprogramBinding) -> tuple[int, ...]:
    """The slots that move and that control lines hang on, in order."""
    rest = clock.settling(clock.at_rest(), resting=True)
    lines = clock.layout.wiring.netlist.lines
    stops = [rest.net(net)[0] for _, net, _ in microprogram.conditions]
    found = _variables(clock.pool, [rest.net(line.net)[0] for line in lines], stops)
    widths = {name: end.width for name, end in form.ends.items()}
    return tuple(sorted(int(name[6:]) for name in found & widths.keys() if _is_narrow_slot(name, widths[name])))


def _is_narrow_slot(name: str, width: int) -> bool:
    return name.startswith("slots.") and width <= WIDEST


def _variables(pool: Pool, roots: Iterable[Expression], stops: Iterable[Expression]) -> set[str]:
    """Names of the variables that some expressions hang on, not through those where it stops."""
    seen = set(stops)
    waiting, found = list(roots), set[str]()
    while waiting:
        node = waiting.pop()
        if node in seen:
            continue
        seen.add(node)
        if node.operation is Operation.VARIABLE:
            found.add(str(node.data))
        waiting += _bits(pool, node.args[0]) if node.operation is Operation.READ else node.args
    return found


def _bits(pool: Pool, address: Expression) -> list[Expression]:
    """Bit by bit, for an address joins flags to what stands beside them."""
    return [pool.slice(address, bit, 1) for bit in range(address.width)]
