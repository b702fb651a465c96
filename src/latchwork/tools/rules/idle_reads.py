"""A bus is read while nothing drives it.

What it finds
    A step of the microprogram in which a register, latch or memory takes something that depends on a bus, while
    none of the bus's three-state outputs is enabled and no pull or keeper holds it. The way may lead through
    gates, selectors and adders; where the control word makes them deaf to the bus, there is no problem. Whether
    something taken hangs on the bus is tried with some thousand random levels of everything that the control
    word leaves open.

    An idle bus with a pull or a keeper has a level, so reading it is defined: no problem. Registers that take
    something at every clock, whatever the control word says, are let pass: they delay, they do not keep.
    Nothing is said of a machine without microprogram. Steps count from 0, as the step counter does.

Why it matters
    What is taken is chance, another on each day, and differs between one board and the next.

Example
    The operand is taken and not shown::

        index_take, last                  # program_show was meant to stand here

What to do
    Show something on the bus in that step, or give it an idle level: m.bus("data", 8, idle=pull_down("10k")).

Sources
    Texas Instruments SCBA004, Implications of Slow or Floating CMOS Inputs, section 5 (pull-up or pull-down,
    bus hold).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from latchwork.analysis.control_words import Situation
from latchwork.analysis.levels import Bit, Given, Lanes, Leaf, folded, set_lanes
from latchwork.model import Model
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.queries import Driver, chip_name
from latchwork.parts import OutputKind
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.dependence import really_taken
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.meetings import chosen
from latchwork.tools.rules.situations import situation_labels
from latchwork.tools.rules.taking import Pairs, Taking, control_level, every_clock, pairs_of, taking_lanes, takings
from latchwork.tools.rules.wording import chip_label, net_label, nets_in_words

CODE = "W203"
SEVERITY = Severity.ERROR

MOST_LANES = 1 << 18


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    if model.control is None:
        return
    everything = [
        taking
        for chip in range(len(model.netlist.chips))
        for taking in takings(chip, model.netlist.part_of(chip).behaviour)
    ]
    for nets in _idle_groups(facts):
        for chip, situations in sorted(_reads(facts, nets, everything).items()):
            own = [taking for taking in everything if taking.chip == chip]
            heard = tuple(net for net in nets if any(_hears(facts, taking, (net,)) for taking in own))
            yield _problem(facts, heard, chip, sorted(situations, key=_order))


def _idle_groups(facts: Facts) -> list[tuple[NetId, ...]]:
    """Nets that can be without any level, those with the same drivers together."""
    groups: dict[tuple[tuple[int, int], ...], list[NetId]] = {}
    for net, drivers in enumerate(facts.live_drivers):
        if drivers and not _always_held(facts, net):
            groups.setdefault(tuple((item.chip, item.drive) for item in drivers), []).append(net)
    return [tuple(nets) for nets in groups.values()]


def _always_held(facts: Facts, net: NetId) -> bool:
    held = facts.wiring.holders[net]
    if net in facts.wiring.levels or held.pulls or held.keepers or held.series or held.switches:
        return True
    return any(
        facts.wiring.kind(item) is not OutputKind.THREE_STATE or not facts.bare.enable(item).zero
        for item in facts.live_drivers[net]
    )


def _reads(facts: Facts, nets: tuple[NetId, ...], everything: list[Taking]) -> dict[ChipId, set[Situation]]:
    """Chips that take from the idle nets, and when."""
    drivers = facts.live_drivers[nets[0]]
    takers = [taking for taking in everything if _hears(facts, taking, nets)]
    situations = [item for item in facts.words.situations(_met(facts, takers, drivers)) if item.rows]
    given, idle = _idle(facts, situations, drivers)
    if not idle or not takers:
        return {}
    marked = replace(given, marks=dict.fromkeys(nets, idle))
    choices = _choices(given, len(situations))
    lanes = Lanes(facts.wiring, len(situations) * choices, marked)
    found: dict[ChipId, set[Situation]] = {}
    for taking in takers:
        hits = _taken_marks(lanes, taking, pairs_of(situations)) & idle
        seen = set_lanes(folded(hits, len(situations), choices))
        for lane in really_taken(facts, taking, nets, situations, seen) if seen else ():
            found.setdefault(taking.chip, set()).add(replace(situations[lane], clock=-1))
    return found


def _hears(facts: Facts, taking: Taking, nets: tuple[NetId, ...]) -> bool:
    scout = Lanes(facts.wiring, 1, replace(facts.words.unknown, marks=dict.fromkeys(nets, 1)))
    return bool(_marks(scout, taking))


def _met(facts: Facts, takers: Sequence[Taking], drivers: Sequence[Driver]) -> set[Leaf]:
    scout = Lanes(facts.wiring, 1, facts.words.unknown)
    for driver in drivers:
        scout.enable(driver)
    for taking in takers:
        control_level(scout, taking)
        _marks(scout, taking)
    return scout.met


def _idle(facts: Facts, situations: list[Situation], drivers: Sequence[Driver]) -> tuple[Given, int]:
    """Lanes in which no driver is enabled: under every choice of what decides it, or where that is too much those in
    which it is certain."""
    given = facts.words.given(situations)
    lanes = Lanes(facts.wiring, len(situations), given)
    enables = [lanes.enable(driver) for driver in drivers]
    leaves = sorted(lanes.met - set(facts.words.word_at) - set(facts.words.address_at) - {facts.words.clock})
    if not leaves or len(situations) << len(leaves) > MOST_LANES:
        return given, _off(lanes, enables)
    given = chosen(given, leaves, len(situations))
    lanes = Lanes(facts.wiring, len(situations) << len(leaves), given)
    return given, _off(lanes, [lanes.enable(driver) for driver in drivers])


def _off(lanes: Lanes, enables: Sequence[Bit]) -> int:
    result = lanes.all
    for bit in enables:
        result &= ~bit.one
    return result


def _choices(given: Given, count: int) -> int:
    """How many choices the given levels run through."""
    some = next(iter((*given.leaves.values(), *given.nets.values())), Bit(1, 0))
    return max(1, (some.one | some.zero).bit_length() // count)


def _marks(lanes: Lanes, taking: Taking) -> int:
    result = 0
    for data in taking.data:
        for place in range(data.width):
            result |= lanes.bit(taking.chip, data, place).mark
    return result


def _taken_marks(lanes: Lanes, taking: Taking, pairs: Pairs) -> int:
    if every_clock(lanes, taking, pairs):
        return 0
    taken = taking_lanes(lanes, taking, pairs)
    return taken & _marks(lanes, taking) if taken else 0


def _problem(facts: Facts, nets: tuple[NetId, ...], chip: ChipId, found: Sequence[Situation]) -> Problem:
    netlist, them = facts.netlist, "it" if len(nets) == 1 else "them"
    taken = nets_in_words(netlist, nets)
    message = f"{chip_name(netlist, chip)} takes from {taken} while nothing drives {them}"
    labels = (
        *net_label(netlist, nets[0], "no idle level"),
        chip_label(netlist, chip, f"takes {them}"),
        *situation_labels(facts, found),
    )
    hint = 'show something in that step, or give the bus an idle level: idle=pull_down("10k")'
    return Problem(CODE, message, labels, hint)


def _order(situation: Situation) -> tuple[int, int]:
    return situation.word, situation.address
