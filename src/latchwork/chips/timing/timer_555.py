"""The 555 in its two usual wirings: as an oscillator, and as a one-shot.

What it does
    Oscillator: OUT is a square wave of the chip's parameter ``period`` while /RESET is high; low while it is low. The
    real wave is high for longer than it is low; here both halves are equal. One-shot: at the fall of TRIG OUT goes high
    for ``width``, triggers during the pulse have no effect, and OUT stays high as long as TRIG is low; /RESET low ends
    it. Times are in picoseconds among the parameters: ``times={"width": "10m"}``. The resistors and the capacitor
    themselves are not modelled: TRIG of the oscillator, THRES, DISCH and CONT are ends without behaviour.

Pins
    GND 1, TRIG 2, OUT 3, /RESET 4, CONT 5, THRES 6, DISCH 7, VCC 8. Sheets write RESET without a bar.

Function table
    ======  ====  ==========================
    /RESET  TRIG  OUT (one-shot)
    ======  ====  ==========================
    L       x     L
    H       fall  H for ``width``
    H       L     H
    H       H     ends its time
    ======  ====  ==========================

Timing
    Oscillator: high 0.693 (RA + RB) C, low 0.693 RB C, frequency 1.44 / ((RA + 2 RB) C). One-shot: 1.1 R C.

Mistakes people make
    Leaving /RESET open. No capacitor at CONT and none across the supply: the bipolar part draws a spike at each edge.
    A clock whose high time must be short: the plain circuit cannot have it below a half.

Sources
    Formulas: ST NE555 Doc ID 2182 Rev 6 p.10; TI SE555-SP SGLS401 p.10; thresholds 1/3 and 2/3 of the supply: Fairchild
    LM555 Rev 1.1.0 p.7. Pins and figures from memory (TI NE555 data sheet).
"""

from latchwork.chips.figures import remembered
from latchwork.chips.pins import dip
from latchwork.chips.timing.shots import running, undisturbed
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Timer, TimerKind

_REST = "OUT:o RESET=RESET_n:i CONT:p THRES:p DISCH:p VCC"
pins_oscillator = dip(f"GND TRIG:p {_REST}")
pins_one_shot = dip(f"GND TRIG:i {_REST}")

runs, started = variable("RESET_n"), ~variable("TRIG")
fire, cut, shot = undisturbed("shot", started & runs, ~runs, "width")

figures = (
    remembered("", "delay", "RESET_n", "OUT", typical=500),
    remembered("", "output current high", end="OUT", unit="mA", maximum=-200),
    remembered("", "output current low", end="OUT", unit="mA", maximum=200),
    remembered("", "supply current", typical=3, maximum=6, unit="mA", conditions="5 V"),
    remembered("", "supply range", minimum=4.5, maximum=16, unit="V"),
)

oscillating = Entry(
    number="555 oscillator",
    title="555 timer wired as an oscillator",
    kind="clock",
    families=("",),
    pins=pins_oscillator,
    behaviour=Behaviour(
        timers=(Timer("wave", TimerKind.OSCILLATOR, time="period"),),
        drives=(Drive("OUT", variable("wave") & runs),),
    ),
    figures=figures,
)
entries = (
    oscillating,
    oscillating.renamed(
        "555 one-shot",
        title="555 timer wired as a one-shot",
        kind="timing",
        pins=pins_one_shot,
        behaviour=Behaviour(
            registers=(fire, cut), timers=(shot,), drives=(Drive("OUT", (running("shot") | started) & runs),)
        ),
        figures=(*figures, remembered("", "delay", "TRIG", "OUT", typical=200)),
    ),
)
