"""Eight-bit comparators: equality (521), greater and equal (682, 684).

What it does
    521: as the 688, the output goes low while /G is low and P equals Q. 682, 684: /P=Q is low while P equals Q, /P>Q is
    low while P is greater. The 682 has pull-up resistors of 20 kohm at its Q inputs, for switches to ground.

Pins
    521: those of the 688. /G 1, P0 2, Q0 3, P1 4, Q1 5, P2 6, Q2 7, P3 8, Q3 9, GND 10, P4 11, Q4 12, P5 13, Q5 14,
    P6 15, Q6 16, P7 17, Q7 18, /P=Q 19, VCC 20. 682, 684: /P>Q at pin 1, the others alike. /P=Q is named PQ_n, /P>Q is
    named GREATER_n. Vectors: P and Q, lowest bit first.

Function table
    ======  ====  ============  =============
    data    /G    /P=Q          /P>Q
    ======  ====  ============  =============
    P = Q   L     L             H
    P > Q   L     H             L
    P < Q   L     H             H
    x       H     H (521)       none
    ======  ====  ============  =============

Timing
    From the data to both outputs; 521: from /G too.

Mistakes people make
    Expecting an enable on the 682. Outputs are active low: less is both high.

Sources
    682, 684, function table, pins and output currents: Motorola FAST AND LS TTL DATA p.5-603, 5-604. The 521 and other
    figures from memory (SN74ALS521, SN74LS682, 684 data sheets).
"""

from latchwork.chips.arithmetic.comparator_8 import behaviour as behaviour_521
from latchwork.chips.arithmetic.comparator_8 import pins as pins_521
from latchwork.chips.figures import delays, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Tie, TieKind

pins_682 = dip("""
    /P>Q=GREATER_n:o P0:i Q0:i P1:i Q1:i P2:i Q2:i P3:i Q3:i GND
    P4:i Q4:i P5:i Q5:i P6:i Q6:i P7:i Q7:i /P=Q=PQ_n:o VCC
""")

p, q = variable("P", 8), variable("Q", 8)

drives = (Drive("PQ_n", ~p.equals(q)), Drive("GREATER_n", ~q.less_than(p)))
pulls = tuple(Tie(f"pull{bit}", f"Q{bit}", "VCC", TieKind.RESISTOR) for bit in range(8))

MOTOROLA = "Motorola FAST AND LS TTL DATA p.5-604"

figures_521 = (
    *delays("ALS", "PQ", "PQ_n", both=(None, 20)),
    *delays("ALS", ("G_n",), "PQ_n", both=(None, 12)),
    *delays("F", "PQ", "PQ_n", both=(7, 11)),
    *delays("F", ("G_n",), "PQ_n", both=(5, 9)),
)
figures_684 = (
    *delays("LS", "PQ", "PQ_n", both=(15, 25)),
    *delays("LS", "PQ", "GREATER_n", both=(20, 30)),
    *(
        stated("LS", quantity, end=end, unit="mA", maximum=value, source=MOTOROLA)
        for end in ("PQ_n", "GREATER_n")
        for quantity, value in (("output current high", -0.4), ("output current low", 24))
    ),
    *delays("HC", "PQ", "PQ_n", both=(None, 42)),
    *delays("HC", "PQ", "GREATER_n", both=(None, 51)),
)

equality = Entry(
    number="521",
    title="eight-bit equality comparator (a 688)",
    kind="arithmetic",
    families=("ALS", "F", "AC", "ACT"),
    pins=pins_521,
    vectors=(("P", numbered("P", 8, first=0)), ("Q", numbered("Q", 8, first=0))),
    behaviour=behaviour_521,
    figures=figures_521,
)
magnitude = equality.renamed(
    "684",
    title="eight-bit magnitude comparator",
    families=("LS", "HC"),
    pins=pins_682,
    behaviour=Behaviour(drives=drives),
    figures=figures_684,
)
entries = (
    equality,
    magnitude.renamed(
        "682",
        title="eight-bit magnitude comparator with pull-ups",
        behaviour=Behaviour(drives=drives, ties=pulls),
    ),
    magnitude,
)
