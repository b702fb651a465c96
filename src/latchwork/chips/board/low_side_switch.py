"""Transistors as switches to ground: 2N7000 (field effect), NPN (bipolar).

What it does
    Pulls D (or C) low while G (or B) is high and lets it go else: an inverter with an open output. Only this use, with
    S (or E) on ground, is modelled; others are refused by nothing but do not act.

Pins
    2N7000: S 1, G 2, D 3. NPN (2N3904): E 1, B 2, C 3. Flat side towards you, leads down; other types differ. S and E
    are joined to ground unless said otherwise. B wants a resistor of its own, from the output that drives it.

Function table
    ======  ==========
    G or B  D or C
    ======  ==========
    L       let go
    H       L
    ======  ==========

Timing
    The bipolar one is slow to let go, since it was saturated.

Mistakes people make
    No resistor at B: the output that drives it sees a diode to ground. No diode across a relay. A 2N7000 at 3.3 V: it
    may not be fully on. BC547 and 2N3904 have their pins the other way round.

Sources
    From memory (2N7000, 2N3904 data sheets).
"""

from latchwork.chips.figures import remembered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Direction, Drive, Entry, OutputKind, Pin


def pins(ground: str, control: str, switched: str) -> tuple[Pin, ...]:
    return (
        Pin(ground, 1, Direction.GROUND, ground),
        Pin(control, 2, Direction.INPUT, control),
        Pin(switched, 3, Direction.OUTPUT, switched),
    )


def switch(control: str, switched: str) -> Behaviour:
    return Behaviour(drives=(Drive(switched, ~variable(control), kind=OutputKind.OPEN_COLLECTOR),))


field_effect = Entry(
    number="2N7000",
    title="field effect transistor as a switch to ground",
    kind="transistor",
    families=("",),
    pins=pins("S", "G", "D"),
    behaviour=switch("G", "D"),
    figures=(
        remembered("", "delay", "G", "D", edge="fall", maximum=10),
        remembered("", "delay", "G", "D", edge="rise", maximum=10),
        remembered("", "output current low", end="D", unit="mA", maximum=75, conditions="4.5 V at G"),
        remembered("", "input high", minimum=3.0, unit="V", conditions="highest threshold"),
    ),
    width_mil=0,
)
entries = (
    field_effect,
    field_effect.renamed(
        "NPN transistor",
        title="bipolar transistor as a switch to ground",
        pins=pins("E", "B", "C"),
        behaviour=switch("B", "C"),
        figures=(
            remembered("", "delay", "B", "C", edge="fall", maximum=70, conditions="10 mA"),
            remembered("", "delay", "B", "C", edge="rise", maximum=250, conditions="10 mA, 1 mA at B"),
            remembered("", "output current low", end="C", unit="mA", maximum=100),
        ),
    ),
)
