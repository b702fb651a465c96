"""Little parts that the catalogue has none of, for text cases and random netlists."""

from __future__ import annotations

from latchwork.chips.pins import dip
from latchwork.logic import Expression, any_of, mux, read, variable
from latchwork.parts import (
    Behaviour,
    Drive,
    Floating,
    Latch,
    Level,
    Memory,
    OutputKind,
    Part,
    Register,
    Update,
    Write,
)


def part(name: str, pins: str, behaviour: Behaviour, floating: Floating = Floating.UNKNOWN, **vectors: int) -> Part:
    """A part with vectors of pins NAME0 .. NAMEn-1."""
    named = tuple((vector, tuple(f"{vector}{i}" for i in range(width))) for vector, width in vectors.items())
    return Part(name, name, "", name, "test", dip(pins), named, behaviour, floating)


def vector(letter: str, width: int, direction: str) -> str:
    return " ".join(f"{letter}{i}:{direction}" for i in range(width))


v = variable


def driver(name: str, value: Expression, kind: OutputKind = OutputKind.PUSH_PULL, enable: bool = False) -> Part:
    behaviour = Behaviour((Drive("Y", value, v("E") if enable else None, kind),))
    return part(name, "A:i B:i C:i E:i Y:o", behaviour)


a, b, c = v("A"), v("B"), v("C")
AND = driver("and", a & b)
NAND = driver("nand", ~(a & b))
OR = driver("or", a | b)
NOR = driver("nor", ~(a | b))
XOR = driver("xor", a ^ b)
NOT = driver("not", ~a)
CHOOSE = driver("choose", mux(a, b, c))
OPEN_COLLECTOR = driver("open collector", a, OutputKind.OPEN_COLLECTOR)
OPEN_AND = driver("open and", a & b, OutputKind.OPEN_COLLECTOR)
THREE_STATE = driver("three-state", a, OutputKind.THREE_STATE, enable=True)
TTL_BUFFER = part("ttl buffer", "A:i Y:o", Behaviour((Drive("Y", a),)), Floating.HIGH)
CMOS_BUFFER = part("cmos buffer", "A:i Y:o", Behaviour((Drive("Y", a),)))

TWO_WAY = part(
    "two-way",
    "A:b B:b D:i E:i",
    Behaviour(
        (
            Drive("B", a, v("E") & v("D"), OutputKind.THREE_STATE),
            Drive("A", b, v("E") & ~v("D"), OutputKind.THREE_STATE),
        )
    ),
)

FLIP_FLOP = part(
    "flip-flop",
    "C:i D:i R:i S:i Q:o",
    Behaviour(
        registers=(
            Register(
                "held", 1, (Update(v("C"), v("D")),), (Level(v("R"), ~v("D") & v("D")), Level(v("S"), v("D") | ~v("D")))
            ),
        ),
        drives=(Drive("Q", v("held")),),
    ),
)

BOTH_EDGES = part(
    "both edges",
    "C:i D:i Q:o",
    Behaviour(
        registers=(Register("held", 1, (Update(v("C"), v("D")), Update(~v("C"), v("D")))),),
        drives=(Drive("Q", v("held")),),
    ),
)

TWO_CLOCKS = part(
    "two clocks",
    f"U:i W:i {vector('Q', 4, 'o')}",
    Behaviour(
        registers=(Register("count", 4, (Update(v("U"), v("count", 4) + 1), Update(v("W"), v("count", 4) - 1))),),
        drives=(Drive("Q", v("count", 4)),),
    ),
    Q=4,
)

COUNTER = part(
    "counter",
    f"C:i R:i T:i {vector('Q', 4, 'o')}",
    Behaviour(
        registers=(
            Register(
                "count",
                4,
                (Update(v("C"), mux(v("T"), v("count", 4) + 1, v("count", 4))),),
                (Level(v("R"), v("count", 4) ^ v("count", 4)),),
            ),
        ),
        drives=(Drive("Q", v("count", 4)),),
    ),
    Q=4,
)

LATCH = part(
    "latch",
    "E:i D:i R:i Q:o",
    Behaviour(
        latches=(Latch("held", 1, v("E"), v("D"), (Level(v("R"), v("R") ^ v("R")),)),), drives=(Drive("Q", v("held")),)
    ),
)


def _memory(name: str, clocked: bool, keeps: bool) -> Part:
    address, data = v("A", 3), v("D", 2)
    return part(
        name,
        f"{vector('A', 3, 'i')} {vector('D', 2, 'b')} W:i O:i",
        Behaviour(
            memories=(Memory("cells", 2, 3, (Write(v("W"), address, data, clocked),), keeps),),
            drives=(Drive("D", read("cells", address, 2), v("O") & ~v("W"), OutputKind.THREE_STATE),),
        ),
        A=3,
        D=2,
    )


LEVEL_RAM = _memory("level ram", clocked=False, keeps=False)
CLOCKED_RAM = _memory("clocked ram", clocked=True, keeps=False)
KEEPING_RAM = _memory("keeping ram", clocked=True, keeps=True)

ZERO_FINDER = part("zero finder", f"{vector('A', 4, 'i')} Y:o", Behaviour((Drive("Y", ~any_of(v("A", 4))),)), A=4)

ALL = {value.name: value for value in list(globals().values()) if isinstance(value, Part)}
