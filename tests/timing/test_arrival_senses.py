"""Which pin moves which: every change of an output that a chip makes has an arc, of every part in the catalogue.

Outside reference: the behaviours themselves, which other tests hold against published function tables; here one pin is
moved, and ``logic.evaluate`` says what the outputs do.
"""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from latchwork.analysis.arrival.senses import Kind, part_arcs, signs
from latchwork.chips.catalogue import entries, find
from latchwork.logic import all_of, any_of, constant, mux, variable
from latchwork.logic.evaluate import evaluate
from latchwork.parts import OutputKind, Part

PARTS = [find(entry.name_in(entry.families[-1])) for entry in entries() if entry.behaviour.drives]


class Word:
    """Levels of all pins and states of a chip, as ``evaluate`` asks for them."""

    def __init__(self, part: Part, bits: int) -> None:
        self.part, self.pins = part, [bits >> pin & 1 for pin in range(len(part.pins))]
        self.states = bits >> len(part.pins)

    def __getitem__(self, name: str) -> int:
        pins = self.part.ports.get(name)
        if pins is None:
            return self.states & 0xFFFFFFFF
        return sum(self.pins[pin] << at for at, pin in enumerate(pins))


def outputs(part: Part, word: Word) -> dict[tuple[int, int], int | None]:
    """(drive, bit) -> level; None: off. States show their bits as they are wide."""
    memories = {memory.name: (lambda address, m=memory: address * 73 & ((1 << m.width) - 1))
                for memory in part.behaviour.memories}  # fmt: skip
    widths = {item.name: item.width for item in (*part.behaviour.registers, *part.behaviour.latches)}
    widths |= {timer.name: 1 for timer in part.behaviour.timers}

    class Narrow(Word):
        def __getitem__(self, name: str) -> int:
            value = super().__getitem__(name)
            return value & ((1 << widths[name]) - 1) if name in widths else value

    narrow = Narrow.__new__(Narrow)
    narrow.__dict__ = word.__dict__
    found: dict[tuple[int, int], int | None] = {}
    for number, drive in enumerate(part.behaviour.drives):
        value = evaluate(drive.value, narrow, memories)
        three_state = drive.kind is OutputKind.THREE_STATE and drive.enable is not None
        on = not three_state or evaluate(drive.enable, narrow, memories)
        for bit in range(len(part.ports[drive.port])):
            found[number, bit] = value >> bit & 1 if on else None
    return found


@settings(max_examples=400)
@given(st.sampled_from(PARTS), st.integers(0, (1 << 120) - 1), st.data())
def test_what_an_output_does_has_an_arc(part: Part, bits: int, data: st.DataObject) -> None:
    pin = data.draw(st.integers(0, len(part.pins) - 1))
    edge = data.draw(st.integers(0, 1))
    before = Word(part, bits & ~(1 << pin) | (1 - edge) << pin)
    after = Word(part, bits & ~(1 << pin) | edge << pin)
    was, now = outputs(part, before), outputs(part, after)
    arcs = part_arcs(part)
    for (drive, bit), level in now.items():
        old = was[drive, bit]
        if level != old:
            senses = {
                (arc.kind, end)
                for arc in arcs
                if (arc.start, arc.drive, arc.bit) == (pin, drive, bit)
                for start, end in arc.senses
                if start == edge
            }
            if old is None:
                assert (Kind.ENABLE, level) in senses
            elif level is None:
                assert {kind for kind, _ in senses} >= {Kind.DISABLE}
            else:
                assert any(end == level and kind not in (Kind.ENABLE, Kind.DISABLE) for kind, end in senses)


def test_senses_of_gates() -> None:
    """An inverting gate turns edges round, an exclusive or lets both pass (IEC 60617-12)."""
    for name, inverting in [("74HC00", True), ("74HC02", True), ("74HC08", False), ("74HC32", False), ("74HC04", True)]:
        for arc in part_arcs(find(name)):
            assert arc.senses == (frozenset({(1, 0), (0, 1)}) if inverting else frozenset({(1, 1), (0, 0)}))
    assert all(len(arc.senses) == 4 for arc in part_arcs(find("74HC86")))


def test_every_output_of_a_register_starts_at_its_clock() -> None:
    """74HC377: an edge-triggered register has arcs from CLK alone, for the rising edge; 74HC273 also from CLR_n."""
    for name, pins in [("74HC377", {"CLK"}), ("74HC273", {"CLK", "CLR_n"})]:
        part = find(name)
        clocked = {part.pins[arc.start].name for arc in part_arcs(part)}
        assert clocked == pins
        assert all(start == 1 for arc in part_arcs(part) if arc.kind is Kind.CLOCK for start, _ in arc.senses)


@given(st.integers(0, 255), st.integers(0, 7))
def test_signs_say_which_way_a_bit_goes(values: int, moved: int) -> None:
    """An expression of every sort of gate: where one input moves and the output follows, the sign allows it."""
    bits = variable("x", 8)
    one = [bits[i] for i in range(8)]
    expression = mux(
        one[0], all_of(one[1], ~one[2]), any_of(one[3], one[4] ^ one[5], (bits[6:8] + constant(1, 2))[1])
    )  # fmt: skip
    low = evaluate(expression, {"x": values & ~(1 << moved)})
    high = evaluate(expression, {"x": values | 1 << moved})
    found = {place.bit: both for place, both in signs(expression).items()}
    if low != high:
        assert (1 if high > low else -1) in found[moved]
