"""Seven-segment digits with a point: common cathode, common anode.

What it does
    Eight light-emitting diodes with one end in common. Common cathode: a segment shines while its pin is high and the
    common pins are low. Common anode: while its pin is low and the common pins are high. They drive nothing.

Pins
    E 1, D 2, COM 3, C 4, DP 5, B 6, A 7, COM 8, F 9, G 10 (usual digit of 14 mm, rows above and below the figure, 600
    mil apart). The two common pins, named COM3 and COM8, are joined inside; wire both or one. The vector SEGMENTS is A
    to G, then DP. It has no supply pins.

Function table
    ==============  ===========  ==========
    digit           segment pin  common pin
    ==============  ===========  ==========
    common cathode  H            L
    common anode    L            H
    ==============  ===========  ==========
    The row says when a segment shines.

Timing
    None.

Mistakes people make
    Taking a decoder of the wrong polarity: 47 for common anode, 48 and 4511 for common cathode. One resistor in the
    common line: a 1 is then brighter than an 8.

Sources
    Common practice; pins from memory.
"""

from latchwork.chips.pins import dip
from latchwork.parts import Behaviour, Entry

cathode = Entry(
    number="digit common cathode",
    title="seven-segment digit, common cathode",
    kind="lamp",
    families=("",),
    pins=dip("E:p D:p COM=COM3:p C:p DP:p B:p A:p COM=COM8:p F:p G:p"),
    vectors=(("SEGMENTS", (*"ABCDEFG", "DP")),),
    behaviour=Behaviour(),
    width_mil=600,
)
entries = (cathode, cathode.renamed("digit common anode", title="seven-segment digit, common anode"))
