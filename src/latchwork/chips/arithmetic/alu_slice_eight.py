"""Four-bit arithmetic slices with eight functions: look-ahead outputs (381), carry and overflow (382).

What it does
    Three lines select one of eight functions of A, B and the carry Cn. The 381 gives /G and /P for a carry look-ahead
    (182); the 382 gives the carry Cn+4 and the overflow of two's complement, OVR.

Pins
    A1 1, B1 2, A0 3, B0 4, S0 to S2 5 to 7, F0 8, F1 9, GND 10, F2 11, F3 12, /G 13 and /P 14 (382: OVR 13, Cn+4 14),
    Cn 15, B3 16, A3 17, B2 18, A2 19, VCC 20. Vectors: A, B, F, S, lowest bit first.

Function table
    ==========  ========================================
    S2 S1 S0    F
    ==========  ========================================
    L  L  L     0
    L  L  H     B minus A minus 1 plus Cn
    L  H  L     A minus B minus 1 plus Cn
    L  H  H     A plus B plus Cn
    H  L  L     A exclusive or B
    H  L  H     A or B
    H  H  L     A and B
    H  H  H     15
    ==========  ========================================
    /G is low where the operands make a carry even with Cn low, /P where in each place one of them is high, so that Cn
    is handed on; OVR is the carry into bit 3 exclusive or Cn+4. What these four show with a
    function that does not calculate is left open by the sheets; here they show what A plus B would.

Timing
    From the operands, from Cn and from S to F and to the carry outputs.

Mistakes people make
    Subtracting with Cn low: the result is one too small. Taking OVR for the carry.

Sources
    Functions, OVR, F currents: Motorola FAST AND LS TTL DATA p.4-181 (MC54/74F381), p.4-186 (MC54/74F382). Pins and
    delays from memory (SN74LS381A, 382A data sheet SDLS168).
"""

from latchwork.chips.figures import delays, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import Expression, all_of, case, concat, constant, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure

_START = "A1:i B1:i A0:i B0:i S0:i S1:i S2:i F0:o F1:o GND F2:o F3:o"
_END = "Cn:i B3:i A3:i B2:i A2:i VCC"
pins_381 = dip(f"{_START} /G:o /P:o {_END}")
pins_382 = dip(f"{_START} OVR:o Cn+4=Cn4:o {_END}")

a, b, carry, function = variable("A", 4), variable("B", 4), variable("Cn"), variable("S", 3)
x = case(function, {1: ~a}, a)
y = case(function, {2: ~b}, b)


def widened(value: Expression, width: int) -> Expression:
    return concat(value, constant(0, width - value.width))


def sum_of(bits: int, carry_in: Expression) -> Expression:
    """The lowest bits of both operands added, and their carry above them."""
    return widened(x[0:bits], bits + 1) + widened(y[0:bits], bits + 1) + widened(carry_in, bits + 1)


total = sum_of(4, carry)
result = case(
    function,
    {0: constant(0, 4), 4: a ^ b, 5: a | b, 6: a & b, 7: constant(15, 4)},
    total[0:4],
)
overflow = sum_of(3, carry)[3] ^ total[4]

behaviour_381 = Behaviour(
    drives=(Drive("F", result), Drive("G_n", ~sum_of(4, constant(0))[4]), Drive("P_n", ~all_of(x | y)))
)
behaviour_382 = Behaviour(drives=(Drive("F", result), Drive("OVR", overflow), Drive("Cn4", total[4])))

figures_f: tuple[Figure, ...] = (
    *delays("LS", "AB", "F", both=(20, 30)),
    *delays("LS", ("Cn",), "F", both=(18, 27)),
    *delays("LS", ("S",), "F", both=(26, 40)),
    *delays("F", "AB", "F", both=(8, 15)),
    *delays("F", ("Cn",), "F", both=(7, 13)),
    *delays("F", ("S",), "F", both=(9, 17)),
)
MOTOROLA = "Motorola FAST AND LS TTL DATA p.4-181, p.4-186"


def currents(usual: float, most: float, carry_in: float) -> tuple[Figure, ...]:
    """F: supply current, and low input currents, which are those of four loads but for S."""
    return (
        stated("F", "supply current", typical=usual, maximum=most, unit="mA", source=MOTOROLA),
        *(
            stated("F", "input current low", start, maximum=value, unit="mA", source=MOTOROLA)
            for start, value in (("S", -0.6), ("A", -2.4), ("B", -2.4), ("Cn", carry_in))
        ),
    )


figures_381 = (
    *figures_f,
    *currents(59, 89, -2.4),
    *(row for end in ("G_n", "P_n") for row in delays("LS", ("A", "B", "S"), end, both=(20, 33))),
    *(row for end in ("G_n", "P_n") for row in delays("F", ("A", "B", "S"), end, both=(6, 11))),
)
figures_382 = (
    *figures_f,
    *currents(54, 81, -3.0),
    *(row for end in ("OVR", "Cn4") for row in delays("LS", ("A", "B", "Cn", "S"), end, both=(22, 38))),
    *(row for end in ("OVR", "Cn4") for row in delays("F", ("A", "B", "Cn", "S"), end, both=(8, 15))),
)

with_look_ahead = Entry(
    number="381",
    title="four-bit arithmetic slice, eight functions, look-ahead outputs",
    kind="arithmetic",
    families=("LS", "S", "F"),
    pins=pins_381,
    vectors=(*((letter, numbered(letter, 4, first=0)) for letter in "ABF"), ("S", numbered("S", 3, first=0))),
    behaviour=behaviour_381,
    figures=figures_381,
)
entries = (
    with_look_ahead,
    with_look_ahead.renamed(
        "382",
        title="four-bit arithmetic slice, eight functions, carry and overflow",
        families=("LS", "F"),
        pins=pins_382,
        behaviour=behaviour_382,
        figures=figures_382,
    ),
)
