"""Random netlists of the catalogue's parts, for property tests: every one satisfies the verifier."""

from hypothesis import strategies as st

from latchwork.base.position import Position
from latchwork.chips.catalogue import entries, find
from latchwork.netlist import Assumption, Board, Bus, Chip, Line, Net, Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import TimerKind

PARTS = [find(entry.name_in(entry.families[-1])) for entry in entries()]
texts = st.text(max_size=6)
words = st.text("abcdefgh_[]0123", min_size=1, max_size=5)
positions = st.builds(Position, texts, st.integers(0, 99), st.integers(0, 99))
levels = st.integers(0, 1)


def names(count):
    return st.lists(words, min_size=count, max_size=count, unique=True)


@st.composite
def netlists(draw):
    """A machine of a few chips, joined at random."""
    count = draw(st.integers(2, 8))
    nets = [Net(name, draw(positions), draw(st.booleans())) for name in draw(names(count))]
    any_net = st.integers(0, count - 1)
    parts = draw(st.lists(st.sampled_from(PARTS), min_size=1, max_size=3, unique_by=lambda part: part.name))
    boards = [Board(name, draw(texts)) for name in draw(names(2))]
    chips = [draw(chip(f"U{number}", parts, any_net)) for number in range(draw(st.integers(0, 4)))]
    buses = [Bus(name, tuple(draw(st.lists(any_net, min_size=1, max_size=3))), draw(st.sampled_from(["", "keep"])))
             for name in draw(names(2))]  # fmt: skip
    lines = [
        Line(
            name, draw(any_net), draw(levels), draw(levels), ((draw(any_net), draw(levels)),), position=draw(positions)
        )
        for name in draw(names(2))
    ]
    assumptions = (Assumption(draw(any_net), draw(levels), draw(positions)),) if draw(st.booleans()) else ()
    return Netlist(
        draw(texts), draw(texts), draw(st.integers(1, 9000)), tuple(parts), tuple(nets), tuple(chips), tuple(boards),
        tuple(buses), high=1, low=0, clock=draw(st.integers(NO_NET, count - 1)), lines=tuple(lines),
        assumptions=assumptions,
    )  # fmt: skip


@st.composite
def chip(draw, reference, parts, any_net):
    """A chip of one of the parts, with the times that its timers need."""
    number = draw(st.integers(0, len(parts) - 1))
    part = parts[number]
    pins = tuple(draw(st.one_of(any_net, st.just(NO_NET))) for _ in part.pins)
    times = [
        (timer.time, draw(st.integers(1, 10**12)))
        for timer in part.behaviour.timers
        if timer.kind is not TimerKind.HAND
    ]
    open_pins = tuple(pin for pin, net in enumerate(pins) if net == NO_NET and draw(st.booleans()))
    spares = tuple(unit.name for unit in part.units if draw(st.booleans()))
    return Chip(reference, number, pins, draw(st.integers(0, 1)), reference.lower(), (*times, ("note", draw(texts))),
                draw(positions), open_pins, spares)  # fmt: skip
