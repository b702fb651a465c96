"""A strobe may glitch, and nothing blanks it.

What it finds
    A pin that acts on its own (a clock, a latch enable, a write enable, an asynchronous set or clear) on a net that a
    ROM, a decoder or gates with several moving inputs make, without the clock in between.

Why it matters
    While a ROM looks up its next word, its outputs may show anything, and a decoder whose inputs arrive one after the
    other shows wrong outputs for some nanoseconds. A memory or a latch acts on that: cells are overwritten, now and
    then, and differently on each board.

Example
    A write enable straight from the decoder of the control word::

        m.chip("138", S=take_code, G1=HIGH, G2A_n=LOW, G2B_n=LOW, Y=take)
        m.chip("6116", A=address, D=data, CE_n=LOW, OE_n=ram_show_n, WE_n=take[3])

What to do
    Let it through a gate with the clock, so that it acts in the second half of the clock only; or enable the decoder by
    the clock; or take the line from a register bit of its own; or use a part with an enable that its clock samples.

Sources
    Common practice; hazards of combinational logic stand in every textbook of digital design. The times are those of
    `latchwork timing`.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from latchwork.analysis.arrival.clocked import Clocked
from latchwork.analysis.arrival.gates import acting
from latchwork.analysis.arrival.graph import Arc, node
from latchwork.analysis.arrival.plain import plain_activity
from latchwork.analysis.arrival.runs import LAUNCHING
from latchwork.analysis.arrival.senses import FALL, RISE, Kind, pins_of
from latchwork.analysis.arrival.times import Corner
from latchwork.logic import Expression
from latchwork.model import Model
from latchwork.netlist import ChipId, NetId, PinRef
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import chip_name
from latchwork.parts import Behaviour, Latch, Register
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import chip_label, pin_label

CODE = "W305"
SEVERITY = Severity.WARNING


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    if model.netlist.clock == NO_NET:
        return
    activity = plain_activity(facts.wiring, facts.words.contents)
    search = _Search(facts, Clocked(activity, model.netlist.clock, Corner.MAXIMUM))
    for net, pins in search.acting_nets().items():
        makers = search.makers(net)
        if makers:
            yield search.problem(net, pins, makers)


class _Search:
    def __init__(self, facts: Facts, clocked: Clocked) -> None:
        self.facts, self.netlist, self.clocked = facts, facts.netlist, clocked

    def acting_nets(self) -> dict[NetId, list[PinRef]]:
        """Nets at pins that act on their own and that no clock blanks, with those pins."""
        found: dict[NetId, list[PinRef]] = {}
        for chip, each in enumerate(self.netlist.chips):
            for expression in self._expressions(chip):
                pins = self._pins(chip, expression)
                if any(each.pins[pin] in self.clocked.clock_nets for pin in pins):
                    continue
                for pin in pins:
                    net, at = each.pins[pin], PinRef(chip, pin)
                    if not self.clocked.activity.is_still(net) and at not in found.setdefault(net, []):
                        found[net].append(at)
        return found

    def _expressions(self, chip: ChipId) -> list[Expression]:
        behaviour: Behaviour = self.netlist.part_of(chip).behaviour
        states: list[Register | Latch] = [*behaviour.registers, *behaviour.latches]
        levels = [level.active for item in states for level in item.levels]
        lanes = self.clocked.activity.lanes
        return [each for each in dict.fromkeys([*acting(behaviour), *levels]) if lanes.bit(chip, each, 0).one]

    def _pins(self, chip: ChipId, expression: Expression) -> list[int]:
        return list(pins_of(self.netlist.part_of(chip), expression))

    def makers(self, net: NetId) -> list[ChipId]:
        """The chip from which on a net may show what nobody meant: a memory that is read, or the first gate with
        several moving inputs. None where it follows one register bit, or nothing clocked."""
        seen = {net}
        while self._window(net) is not None:
            arcs = [arc for edge in (FALL, RISE) for arc in self.clocked.graph.into[node(net, edge)]]
            if any(arc.kind is Kind.READ for arc in arcs):
                return [next(arc.chip for arc in arcs if arc.kind is Kind.READ)]
            starts = {arc.start // 2 for arc in arcs if arc.kind not in LAUNCHING and self._moves(arc)}
            if len(starts) > 1:
                return [arcs[0].chip]
            if not starts or starts <= seen:
                return []
            net = starts.pop()
            seen.add(net)
        return []

    def _moves(self, arc: Arc) -> bool:
        return self._window(arc.start // 2) is not None

    @cached_property
    def _least(self) -> Clocked:
        return Clocked(self.clocked.activity, self.netlist.clock, Corner.MINIMUM)

    def _window(self, net: NetId) -> tuple[int, int] | None:
        """When a net moves after an edge of the clock: by minimum figures at the earliest, by maximum ones at the
        latest."""
        found = [
            [
                piece.time
                for run in runs
                for data in run.data.values()
                for edge in (0, 1)
                for piece in data[node(net, edge)]
            ]
            for runs in (self._least.earliest, self.clocked.latest)
        ]
        return (min(found[0]), max(found[1])) if found[0] and found[1] else None

    def problem(self, net: NetId, pins: list[PinRef], makers: list[ChipId]) -> Problem:
        window = self._window(net)
        assert window is not None
        first, last = (round(time / 1000) for time in window)
        part = self.netlist.part_of(pins[0].chip)
        message = (
            f"{self.netlist.nets[net].name} may glitch from {first} to {last} ns after the clock, "
            f"and {chip_name(self.netlist, pins[0].chip)} acts on it at {part.pins[pins[0].pin].name}"
        )
        what = "looks up its word meanwhile" if self._reads(makers[0]) else "has inputs that arrive one after the other"
        labels = (pin_label(self.netlist, pins[0], "acts on it"), chip_label(self.netlist, makers[0], what))
        return Problem(CODE, message, labels, "let it through a gate with the clock", SEVERITY)

    def _reads(self, chip: ChipId) -> bool:
        return bool(self.netlist.part_of(chip).behaviour.memories)
