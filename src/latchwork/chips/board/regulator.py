"""Voltage regulators: 5 V, 3.3 V.

What it does
    Makes a steady voltage of a higher one. It has no behaviour here: the rails of a machine carry their levels always.

Pins
    5 V regulator (7805): IN 1, GND 2, OUT 3. 3.3 V regulator (1117 kind): GND 1, OUT 2, IN 3; the tab is OUT, too. No
    dual in-line package.

Function table
    None.

Timing
    None.

Mistakes people make
    Taking one pinout for the other. 5 V in at a 7805, which wants about 7 V. No capacitors at IN and OUT. Heat: the
    current times the voltage that is lost.

Sources
    From memory (LM7805, LD1117 data sheets).
"""

from latchwork.chips.figures import remembered
from latchwork.chips.pins import dip
from latchwork.parts import Behaviour, Entry

five = Entry(
    number="5 V regulator",
    title="voltage regulator, 5 V (no behaviour)",
    kind="supply",
    families=("",),
    pins=dip("IN:p GND OUT:p"),
    behaviour=Behaviour(),
    figures=(
        remembered("", "supply range", minimum=7, maximum=25, unit="V", conditions="at IN"),
        remembered("", "supply current", typical=5, maximum=8, unit="mA", conditions="its own"),
        remembered("", "output high", end="OUT", minimum=4.8, typical=5.0, maximum=5.2, unit="V"),
    ),
    width_mil=0,
)
entries = (
    five,
    five.renamed(
        "3.3 V regulator",
        title="voltage regulator, 3.3 V (no behaviour)",
        pins=dip("GND OUT:p IN:p"),
        figures=(
            remembered("", "supply range", minimum=4.75, maximum=15, unit="V", conditions="at IN"),
            remembered("", "supply current", typical=5, maximum=10, unit="mA", conditions="its own"),
            remembered("", "output high", end="OUT", minimum=3.235, typical=3.3, maximum=3.365, unit="V"),
        ),
    ),
)
