"""Quad register that takes one of two words at the falling edge.

What it does
    At the falling edge of CLK the register takes word 1 while WS is low, word 2 while WS is high. No clear.

Pins
    B2 1, A2 2, A1 3, B1 4, C2 5, D2 6, D1 7, GND 8, C1 9, WS 10, CLK 11, QD 12, QC 13, QB 14, QA 15, VCC 16.
    Vectors: word1 is A1 .. D1, word2 is A2 .. D2, Q is QA .. QD.

Function table
    ==  ====  =====
    WS  CLK   Q
    ==  ====  =====
    L   fall  word1
    H   fall  word2
    x   L, H  held
    ==  ====  =====

Timing
    WS needs a longer setup before the falling edge than the words.

Mistakes people make
    Clocking it by the edge that the other registers use: it takes at the falling one.

Sources
    Function, pins and figures from memory of makers' data sheets (SN74298, SN74LS298).
"""

from latchwork.chips.figures import delays, remembered_pulses, remembered_times
from latchwork.chips.pins import dip
from latchwork.logic import mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Register, Update

pins = dip("""
    B2:i A2:i A1:i B1:i C2:i D2:i D1:i GND
    C1:i WS:i CLK:i QD:o QC:o QB:o QA:o VCC
""")

data = mux(variable("WS"), variable("word2", 4), variable("word1", 4))

behaviour = Behaviour(
    registers=(Register("held", 4, (Update(~variable("CLK"), data),)),),
    drives=(Drive("Q", variable("held", 4)),),
)

figures = (
    *delays("", ("CLK",), "Q", rise=(18, 27), fall=(21, 32)),
    *delays("LS", ("CLK",), "Q", rise=(18, 27), fall=(21, 32)),
    *remembered_times("LS", "setup", "CLK", word1=15, word2=15, WS=25),
    *remembered_times("LS", "hold", "CLK", word1=5, word2=5, WS=0),
    *remembered_pulses("LS", CLK=20),
)

entry = Entry(
    number="298",
    title="quad register of two words, falling edge",
    kind="register",
    families=("", "LS", "F", "HC"),
    pins=pins,
    vectors=(
        ("word1", tuple(f"{letter}1" for letter in "ABCD")),
        ("word2", tuple(f"{letter}2" for letter in "ABCD")),
        ("Q", tuple(f"Q{letter}" for letter in "ABCD")),
    ),
    behaviour=behaviour,
    figures=figures,
)
