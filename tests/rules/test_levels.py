"""Levels in many lanes against the plain evaluator, on the behaviour of every part of the catalogue."""

import random

import pytest

from latchwork import HIGH, Machine
from latchwork.analysis.levels import Bit, Given, Lanes, Leaf, enumerated, folded, repeated, set_lanes
from latchwork.analysis.wiring import Wiring
from latchwork.chips.catalogue import entries
from latchwork.logic import Expression, Operation
from latchwork.logic.evaluate import evaluate, evaluate_known
from latchwork.netlist import Board, Chip, Net, Netlist
from latchwork.parts import Floating, Part

LANES = 64
PARTS = [entry.in_family(entry.families[-1], Floating.UNKNOWN) for entry in entries()]


def netlist_of(part: Part) -> Netlist:
    """The part alone, every pin on a net of its own behind the two rails."""
    names = ["low", "high", *(pin.name for pin in part.pins)]
    chip = Chip("U1", 0, tuple(range(2, 2 + len(part.pins))), 0)
    nets = tuple(Net(f"net {name}") for name in names)
    return Netlist("one", "HCT", 5000, (part,), nets, (chip,), (Board("main"),), (), 1, 0)


def expressions(part: Part) -> list[Expression]:
    behaviour = part.behaviour
    found = [expression for drive in behaviour.drives for expression in (drive.value, drive.enable) if expression]
    found += [update.data for register in behaviour.registers for update in register.updates]
    return [expression for expression in found if not reads_memory(expression)]


def reads_memory(expression: Expression) -> bool:
    return expression.operation is Operation.READ or any(reads_memory(argument) for argument in expression.args)


def states(part: Part) -> dict[str, int]:
    behaviour = part.behaviour
    widths = {item.name: item.width for item in (*behaviour.registers, *behaviour.latches)}
    return widths | {timer.name: 1 for timer in behaviour.timers}


def drawn(rng: random.Random, unknown: bool) -> Bit:
    """Random levels in all lanes; some unknown where they may be."""
    one, dark = rng.getrandbits(LANES), rng.getrandbits(LANES) & rng.getrandbits(LANES) if unknown else 0
    return Bit(one | dark, ~one & (1 << LANES) - 1 | dark)


@pytest.mark.parametrize("unknown", [False, True])
@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_every_part_as_the_plain_evaluator_has_it(part: Part, unknown: bool) -> None:
    rng = random.Random(part.name)
    nets = {net: drawn(rng, unknown) for net in range(2, 2 + len(part.pins))}
    leaves = {
        Leaf("state", 0, name, bit): drawn(rng, unknown) for name, width in states(part).items() for bit in range(width)
    }
    lanes = Lanes(Wiring(netlist_of(part)), LANES, Given(nets, leaves))
    for expression in expressions(part):
        found = [lanes.bit(0, expression, bit) for bit in range(expression.width)]
        for lane in range(LANES):
            variables = {name: known_in(lane, [nets[2 + pin] for pin in pins]) for name, pins in part.ports.items()}
            for name, width in states(part).items():
                variables[name] = known_in(lane, [leaves[Leaf("state", 0, name, bit)] for bit in range(width)])
            value, known = known_in(lane, found)
            if unknown:
                sure, certain = evaluate_known(expression, variables)
                assert (value ^ sure) & known & certain == 0
            else:
                plain = {name: value for name, (value, _) in variables.items()}
                assert (value, known) == (evaluate(expression, plain), (1 << expression.width) - 1)


def known_in(lane: int, bits: list[Bit]) -> tuple[int, int]:
    """(value, mask of known bits) in one lane."""
    value = known = 0
    for place, bit in enumerate(bits):
        one, zero = bit.one >> lane & 1, bit.zero >> lane & 1
        known |= (one ^ zero) << place
        value |= (one & ~zero) << place
    return value, known


@pytest.mark.parametrize("part", [part for part in PARTS if expressions(part)], ids=lambda part: part.name)
def test_a_mark_reaches_whatever_the_marked_pin_can_change(part: Part) -> None:
    """Turning a pin over changes a bit only where the pin's mark has reached it."""
    rng = random.Random(part.name)
    nets = {net: drawn(rng, False) for net in range(2, 2 + len(part.pins))}
    leaves = {
        Leaf("state", 0, name, bit): drawn(rng, False) for name, width in states(part).items() for bit in range(width)
    }
    wiring, whole = Wiring(netlist_of(part)), (1 << LANES) - 1
    for pin, level in nets.items():
        turned = nets | {pin: Bit(level.zero, level.one)}
        before, after = (Lanes(wiring, LANES, Given(some, leaves)) for some in (nets, turned))
        marked = Lanes(wiring, LANES, Given(nets, leaves, {pin: whole}))
        for expression in expressions(part):
            for bit in range(expression.width):
                changed = before.bit(0, expression, bit).one ^ after.bit(0, expression, bit).one
                assert changed & ~marked.bit(0, expression, bit).mark == 0


def test_a_chain_of_a_thousand_gates() -> None:
    machine = Machine("chain", family="HCT", supply=5.0)
    net = machine.net("first")
    for _ in range(1000):
        net = machine.gate("nand", net, HIGH)
    machine.gate("nand", net, HIGH, out=machine.net("last"))
    netlist = machine.netlist()
    first, last = ([net.name for net in netlist.nets].index(name) for name in ("first", "last"))
    lanes = Lanes(Wiring(netlist), 2, Given({first: Bit(0b01, 0b10)}))
    assert lanes.net(last) == Bit(0b10, 0b01)


def test_choices_and_lanes() -> None:
    leaves = [Leaf("net", net) for net in range(3)]
    found = enumerated(leaves, 5)
    for lane in range(5 << 3):
        assert [found[leaf].one >> lane & 1 for leaf in leaves] == [lane // 5 >> place & 1 for place in range(3)]
        assert [found[leaf].zero >> lane & 1 for leaf in leaves] == [1 - (lane // 5 >> place & 1) for place in range(3)]
    assert set_lanes(repeated(0b01001, 5, 3)) == [0, 3, 5, 8, 10, 13]
    assert set_lanes(folded(1 << 7 | 1 << 13 | 1 << 33, 5, 8)) == [2, 3]
