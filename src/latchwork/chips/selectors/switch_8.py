"""Eight-channel analog switch, used as a digital selector.

What it does
    While /E is low it joins the channel whose number stands on C, B, A with the common pin Z. Here only the way from
    a channel to the common pin is modelled: Z shows the chosen channel, and drives nothing while /E is high.

Pins
    Y4 1, Y6 2, Z 3, Y7 4, Y5 5, /E 6, VEE 7, GND 8, C 9, B 10, A 11, Y3 12, Y0 13, Y1 14, Y2 15, VCC 16.
    VEE goes to GND in a digital circuit. Vectors: S is A, B, C, lowest first; Y is Y0 .. Y7.

Function table
    ==  =====
    /E  Z
    ==  =====
    H   off
    L   Y[S]
    ==  =====

Timing
    A channel passes at once, but through 50 to 100 ohms that slow down every capacitance behind them; the switching
    itself takes longer.

Mistakes people make
    Leaving VEE open. Expecting a fresh, strong level: the switch passes on what drives the channel. Driving Z to hand
    a level out to a channel, which works on the bench but is not simulated here.

Sources
    HCT figures: TI CD74HCT4051-Q1 SCLS569C, where the turn-on time counts for the address too. Function, pins and HC
    figures from memory.
"""

from latchwork.chips.figures import delays
from latchwork.chips.pins import dip, numbered
from latchwork.logic import case, variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind

pins = dip("Y4:i Y6:i Z:o Y7:i Y5:i /E:i VEE GND C:i B:i A:i Y3:i Y0:i Y1:i Y2:i VCC")

channels = variable("Y", 8)
chosen = case(variable("S", 3), {number: channels[number] for number in range(7)}, channels[7])

behaviour = Behaviour(drives=(Drive("Z", chosen, ~variable("E_n"), OutputKind.THREE_STATE),))

TEXAS, USUAL = "TI CD74HCT4051-Q1 SCLS569C", "4.5 V, VEE 0 V, 25 degC, 50 pF"

figures = (
    *delays("HC", ("Y",), "Z", both=(None, 12)),
    *delays("HC", ("S",), "Z", both=(None, 45)),
    *delays("HC", ("E_n",), "Z", both=(None, 45), quantity="enable"),
    *delays("HC", ("E_n",), "Z", both=(None, 45), quantity="disable"),
    *delays("HCT", ("Y",), "Z", both=(None, 12), source=TEXAS, conditions=USUAL),
    *delays("HCT", ("Y",), "Z", both=(4, None), source=TEXAS, conditions="5 V, 25 degC, 15 pF"),
    *delays("HCT", ("S",), "Z", both=(None, 55), source=TEXAS, conditions=USUAL),
    *delays("HCT", ("S",), "Z", both=(23, None), source=TEXAS, conditions="5 V, 25 degC, 15 pF"),
    *delays("HCT", ("E_n",), "Z", both=(None, 55), quantity="enable", source=TEXAS, conditions=USUAL),
    *delays("HCT", ("E_n",), "Z", both=(None, 50), quantity="disable", source=TEXAS, conditions=USUAL),
)

entry = Entry(
    number="4051",
    title="eight-channel switch, used as a selector",
    kind="selector",
    families=("HC", "HCT"),
    pins=pins,
    vectors=(("S", ("A", "B", "C")), ("Y", numbered("Y", 8, first=0))),
    behaviour=behaviour,
    figures=figures,
)
