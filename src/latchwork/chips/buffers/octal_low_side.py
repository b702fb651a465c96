"""Eight strong inverting switches to ground.

What it does
    Each output is pulled low while its input is high and let go else. Outputs stand 50 V and take 500 mA each, for
    lamps, relays and motors.

Pins
    ULN2803: 1B to 8B 1 to 8, GND 9, COM 10, 8C to 1C 11 to 18; each output opposite to its input. COM is the common end
    of eight diodes for relays, without behaviour here. There is no supply pin. Vectors B and C.

Function table
    =  ======
    B  C
    =  ======
    L  let go
    H  L
    =  ======

Timing
    Slow to let go.

Mistakes people make
    Expecting a logic low: the output stays about 1 V above ground, too high for most inputs. COM left open with relays.
    Looking for a supply pin.

Sources
    ULN2803A data sheet SLRS049: function, pins and figures from memory.
"""

from latchwork.chips.figures import remembered
from latchwork.chips.pins import dip
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind, Unit

NUMBERS = range(1, 9)

pins = dip(
    " ".join(
        [
            *(f"{number}B:i" for number in NUMBERS),
            "GND COM:p",
            *(f"{number}C:o" for number in reversed(NUMBERS)),
        ]
    )
)

units = tuple(Unit(str(number), (("B", f"B{number}"), ("C", f"C{number}"))) for number in NUMBERS)

entry = Entry(
    number="ULN2803",
    title="eight strong inverting switches to ground",
    kind="buffer",
    families=("",),
    pins=pins,
    vectors=tuple((letter, tuple(f"{letter}{number}" for number in NUMBERS)) for letter in "BC"),
    behaviour=Behaviour(
        drives=tuple(Drive(f"C{number}", ~variable(f"B{number}"), kind=OutputKind.OPEN_COLLECTOR) for number in NUMBERS)
    ),
    units=units,
    figures=(
        remembered("", "delay", "B", "C", edge="fall", typical=20),
        remembered("", "delay", "B", "C", edge="rise", typical=130),
        remembered("", "output current low", end="C", unit="mA", maximum=500),
        remembered("", "output low", end="C", unit="V", typical=0.9, maximum=1.1, conditions="100 mA"),
        remembered("", "input current high", unit="mA", typical=0.93, maximum=1.35, conditions="3.85 V"),
        remembered("", "input high", minimum=2.4, unit="V", conditions="200 mA"),
    ),
)
