"""Four-bit slice of an arithmetic and logic unit.

What it does
    Makes F from A and B: sixteen logic functions while M is high, sixteen arithmetic ones while M is low. Here data are
    active high, and then the carries Cn and Cn+4 are active low: Cn high means no carry in, Cn+4 low means carry
    out. From B and the select lines come two words, X and Y (below); logic is the inverse of their difference bit
    by bit, arithmetic is their sum, so that M only holds the carries off.

    S3 S2: Y is 0, A and not B, A and B, A. S1 S0: X is A, A or B, A or not B, all ones.

Pins
    181: B0 1, A0 2, S3 to S0 3 to 6, Cn 7, M 8, F0 to F2 9 to 11, GND 12, F3 13, A=B 14, /P 15, Cn+4 16, /G 17, B3 18,
    A3 19, B2 20, A2 21, B1 22, A1 23, VCC 24; rows 600 mil apart.
    Vectors: A, B, F, S, lowest bit first. Cn+4 is named Cn4, A=B is named AB.

Function table
    ====  ===========  =====================================  =====================
    S     M high       M low, Cn high (Cn low: one more)      often called
    ====  ===========  =====================================  =====================
    LLLL  not A        A                                      increment (Cn low)
    LLLH  A nor B      A or B
    LLHL  not A and B  A or not B
    LLHH  0            minus 1
    LHLL  A nand B     A plus (A and not B)
    LHLH  not B        (A or B) plus (A and not B)
    LHHL  A xor B      A minus B minus 1                      subtract (Cn low)
    LHHH  A and not B  (A and not B) minus 1
    HLLL  not A or B   A plus (A and B)
    HLLH  A xnor B     A plus B                               add
    HLHL  B            (A or not B) plus (A and B)
    HLHH  A and B      (A and B) minus 1
    HHLL  all ones     A plus A                               shift left
    HHLH  A or not B   (A or B) plus A
    HHHL  A or B       (A or not B) plus A
    HHHH  A            A minus 1                              decrement (Cn high)
    ====  ===========  =====================================  =====================
    A=B is open collector and high while F is all ones. Cn+4, /P and /G do not look at M.
    /P and /G feed a 182, whose carries then equal what Cn+4 would be: Cn+4 is high where /G is low, or /P is low and
    Cn is high.

Timing
    Longest from A and B to A=B; a ripple adds Cn to Cn+4 for each slice between, a 182 two levels for four slices.

Mistakes people make
    Feeding an active-high carry to Cn. Leaving A=B without its pull-up. Reading A=B as equality in another mode than
    subtract with Cn high. Taking the carry after a subtraction for a borrow: Cn+4 low means no borrow.

Sources
    TI SDLS136 p.4 table 2 (active-high data); Fairchild DM74LS181; NTE74LS181 p.4 (A=B, comparison); Motorola
    SN54/74LS181 (pins). The sheets at hand give no delays from M and S: estimates.
"""

from dataclasses import replace

from latchwork.chips.figures import MEMORY_CONDITIONS, remembered, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import Expression, all_of, any_of, case, concat, constant, mux, variable
from latchwork.parts import Behaviour, Confidence, Drive, Entry, Figure, OutputKind

pins = dip("""
    B0:i A0:i S3:i S2:i S1:i S0:i Cn:i M:i F0:o F1:o F2:o GND
    F3:o A=B=AB:o /P:o Cn+4=Cn4:o /G:o B3:i A3:i B2:i A2:i B1:i A1:i VCC
""")

a, b, select = variable("A", 4), variable("B", 4), variable("S", 4)
logic, no_carry = variable("M"), variable("Cn")


def where(line: int) -> Expression:
    return select[line].repeat(4)


x = a | (b & where(0)) | (~b & where(1))
y = (a & ~b & where(2)) | (a & b & where(3))


def total(carry: Expression) -> Expression:
    """X plus Y plus carry, in five bits. Y never has a bit that X lacks, so a carry leaves a bit where Y has it,
    or X has it and one comes in: the gates of the data sheet."""
    return concat(x, constant(0)) + concat(y, constant(0)) + concat(carry, constant(0, 4))


# In logic mode the gates make ~(x ^ y). Written out by function it is the same, and says more where an operand is
# unknown that the function does not ask for: B is B, whatever A may be.
logic_functions = {
    0b0000: ~a, 0b0001: ~(a | b), 0b0010: ~a & b, 0b0011: constant(0, 4),
    0b0100: ~(a & b), 0b0101: ~b, 0b0110: a ^ b, 0b0111: a & ~b,
    0b1000: ~a | b, 0b1001: ~(a ^ b), 0b1010: b, 0b1011: a & b,
    0b1100: constant(15, 4), 0b1101: a | ~b, 0b1110: a | b,
}  # fmt: skip

arithmetic = total(~no_carry)
f = mux(logic, case(select, logic_functions, a), arithmetic[0:4])

behaviour = Behaviour(
    drives=(
        Drive("F", f),
        Drive("AB", all_of(f), kind=OutputKind.OPEN_COLLECTOR),
        Drive("Cn4", ~arithmetic[4]),
        Drive("P_n", any_of(y)),
        Drive("G_n", total(constant(1))[4]),
    ),
)

_NTE = "NTE74LS181 p.3"
_FAIRCHILD = "Fairchild DM74LS181 p.5"
_BOTH = f"{_NTE} (typical); {_FAIRCHILD} (maximum)"
_GUESS = "estimate: the slowest figure of A and B to the same output; no sheet at hand gives it"
_ANY, _SUM, _DIFFERENCE, _LOGIC = "15 pF", "sum, 15 pF", "difference, 15 pF", "logic, 15 pF"
_SAME_SUM, _SAME_DIFFERENCE = "sum, same bit, 15 pF", "difference, same bit, 15 pF"


def estimated(start: str, end: str, limit: float) -> Figure:
    return stated("LS", "delay", start, end, maximum=limit, source=_GUESS, confidence=Confidence.ESTIMATE)


_from_carry = (
    stated("LS", "delay", "Cn", "Cn4", edge="rise", typical=18, maximum=27, conditions=_ANY, source=_NTE),
    stated("LS", "delay", "Cn", "Cn4", edge="fall", typical=13, maximum=20, conditions=_ANY, source=_NTE),
    stated("LS", "delay", "Cn", "F", edge="rise", typical=17, maximum=26, conditions=_ANY, source=_BOTH),
    stated("LS", "delay", "Cn", "F", edge="fall", typical=13, maximum=20, conditions=_ANY, source=_NTE),
    estimated("Cn", "AB", 62),
)
_from_a = (
    stated("LS", "delay", "A", "Cn4", typical=25, maximum=38, conditions=_SUM, source=_NTE),
    stated("LS", "delay", "A", "Cn4", typical=27, maximum=41, conditions=_DIFFERENCE, source=_BOTH),
    stated("LS", "delay", "A", "G_n", edge="rise", typical=19, maximum=29, conditions=_SUM, source=_BOTH),
    stated("LS", "delay", "A", "G_n", edge="fall", maximum=23, conditions=_SUM, source=_NTE),
    stated("LS", "delay", "A", "G_n", edge="rise", typical=21, maximum=32, conditions=_DIFFERENCE, source=_BOTH),
    stated("LS", "delay", "A", "G_n", edge="fall", typical=21, maximum=32, conditions=_DIFFERENCE, source=_NTE),
    stated("LS", "delay", "A", "P_n", typical=20, maximum=30, conditions=_SUM, source=_NTE),
    stated("LS", "delay", "A", "P_n", edge="rise", typical=20, maximum=30, conditions=_DIFFERENCE, source=_NTE),
    stated("LS", "delay", "A", "P_n", edge="fall", typical=22, maximum=33, conditions=_DIFFERENCE, source=_NTE),
    stated("LS", "delay", "A", "F", edge="rise", maximum=32, conditions=_SAME_SUM, source=_NTE),
    stated("LS", "delay", "A", "F", edge="fall", typical=13, maximum=20, conditions=_SAME_SUM, source=_NTE),
    stated("LS", "delay", "A", "F", edge="rise", maximum=32, conditions=_SAME_DIFFERENCE, source=_NTE),
    stated("LS", "delay", "A", "F", edge="fall", typical=21, conditions=_SAME_DIFFERENCE, source=_NTE),
    remembered("LS", "delay", "A", "F", edge="fall", maximum=32, conditions=_SAME_DIFFERENCE),
    stated("LS", "delay", "A", "F", edge="rise", typical=22, maximum=33, conditions=_LOGIC, source=_NTE),
    stated("LS", "delay", "A", "F", edge="fall", typical=26, maximum=29, conditions=_LOGIC, source=_BOTH),
    stated("LS", "delay", "A", "AB", edge="rise", typical=33, maximum=50, conditions=_DIFFERENCE, source=_NTE),
    stated("LS", "delay", "A", "AB", edge="fall", maximum=62, conditions=_DIFFERENCE, source=_NTE),
)
_from_select = (
    *(estimated("M", end, limit) for end, limit in (("F", 33), ("AB", 62))),
    *(estimated("S", end, limit) for end, limit in (("F", 33), ("AB", 62), ("Cn4", 41), ("P_n", 33), ("G_n", 32))),
)

figures = (
    *_from_carry,
    *_from_a,
    *(replace(figure, start="B") for figure in _from_a),
    *_from_select,
    remembered("LS", "supply current", typical=21, maximum=37, unit="mA", conditions=MEMORY_CONDITIONS),
    remembered("S", "delay", "Cn", "Cn4", typical=7, maximum=10.5, conditions=MEMORY_CONDITIONS),
    remembered("F", "delay", "A", "F", maximum=11, conditions="sum; " + MEMORY_CONDITIONS),
    remembered("F", "delay", "B", "F", maximum=11, conditions="sum; " + MEMORY_CONDITIONS),
)

entry = Entry(
    number="181",
    title="four-bit arithmetic and logic slice",
    kind="arithmetic",
    families=("", "LS", "S", "F", "HC", "HCT"),
    pins=pins,
    vectors=tuple((letter, numbered(letter, 4, first=0)) for letter in "ABFS"),
    behaviour=behaviour,
    figures=figures,
    width_mil=600,
)
