"""Dual two-to-four decoder with shared select inputs, push-pull (155) or open-collector (156).

What it does
    Both halves look at B, A. Half 1 pulls its chosen output low while /1G is low and 1C high, half 2 while /2G and
    /2C are low. With 1C and /2C joined as the third select line it is a three-to-eight decoder. The other outputs are
    high (155) or let go (156).

Pins
    1C 1, /1G 2, B 3, 1Y3 to 1Y0 4 to 7, GND 8, 2Y0 to 2Y3 9 to 12, A 13, /2G 14, /2C 15, VCC 16.
    Vectors: S is A, B, lowest first; Y1 is Y1_0 .. Y1_3, Y2 likewise, active low.

Function table
    ====  ========  =================================
    /1G   1C        Y1
    ====  ========  =================================
    H     x         all high (156: let go)
    x     L         all high (156: let go)
    L     H         Y1[S] low, the others high
    ====  ========  =================================

    Half 2 likewise with /2C low for 1C high.

Timing
    Through two or three levels of gates; the rising edges of the 156 are those of its pull-up resistors.

Mistakes people make
    Overlooking that the data inputs of the halves differ: one is active high, the other active low.

Sources
    Function, pins and figures from memory of makers' data sheets (SN74155, SN74LS155A, SN74LS156).
"""

from latchwork.chips.figures import delays
from latchwork.chips.pins import dip
from latchwork.logic import Expression, case, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind

pins = dip("1C:i /1G:i B:i 1Y3:o 1Y2:o 1Y1:o 1Y0:o GND 2Y0:o 2Y1:o 2Y2:o 2Y3:o A:i /2G:i /2C:i VCC")

none = constant(0xF, 4)
chosen = case(variable("S", 2), {key: constant(0xF ^ 1 << key, 4) for key in range(4)}, none)


def decoder(kind: OutputKind) -> Behaviour:
    def half(number: int, enabled: Expression) -> Drive:
        return Drive(f"Y{number}", mux(enabled, chosen, none), None, kind)

    first = variable("C1") & ~variable("G1_n")
    return Behaviour(drives=(half(1, first), half(2, ~variable("C2_n") & ~variable("G2_n"))))


def row_of(number: int) -> tuple[str, tuple[str, ...]]:
    return f"Y{number}", tuple(f"Y{number}_{index}" for index in range(4))


HALVES = (("Y1", "G1_n", "C1"), ("Y2", "G2_n", "C2_n"))

figures = tuple(
    figure
    for output, enable, data in HALVES
    for figure in (
        *delays("", ("S",), output, rise=(21, 32), fall=(21, 32)),
        *delays("", (enable,), output, rise=(13, 20), fall=(18, 27)),
        *delays("", (data,), output, rise=(16, 24), fall=(20, 30)),
        *delays("LS", ("S",), output, rise=(17, 26), fall=(19, 30)),
        *delays("LS", (enable,), output, rise=(10, 15), fall=(19, 30)),
        *delays("LS", (data,), output, rise=(18, 27), fall=(18, 27)),
    )
)
open_figures = tuple(
    figure
    for output, enable, data in HALVES
    for figure in (
        *delays("LS", ("S",), output, rise=(31, 46), fall=(34, 51)),
        *delays("LS", (enable,), output, rise=(25, 40), fall=(34, 51)),
        *delays("LS", (data,), output, rise=(32, 48), fall=(32, 48)),
    )
)

push_pull = Entry(
    number="155",
    title="dual two-to-four decoder, shared select",
    kind="decoder",
    families=("", "LS"),
    pins=pins,
    vectors=(("S", ("A", "B")), row_of(1), row_of(2)),
    behaviour=decoder(OutputKind.PUSH_PULL),
    figures=figures,
)

entries = (
    push_pull,
    push_pull.renamed(
        "156",
        title="dual two-to-four decoder, shared select, open collector",
        families=("", "LS", "ALS"),
        behaviour=decoder(OutputKind.OPEN_COLLECTOR),
        figures=open_figures,
    ),
)
