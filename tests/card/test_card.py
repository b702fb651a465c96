from pathlib import Path

import pytest

from latchwork import Machine
from latchwork.model import CodeBits, ControlProgram, Instruction, Model, Operand, OperandKind, SyntaxItem
from latchwork.problems import LatchworkError
from latchwork.reports.card import CardLine, CardOperand
from latchwork.tools.card.report import card

REGISTER = OperandKind("reg", 1, (("acc", 0), ("index", 1)))
BYTE = OperandKind("byte", 8, low=-128, high=255)
NEAR = OperandKind("near", 8, low=-128, high=127, relative=True)
INSTRUCTIONS = (
    Instruction(
        "load",
        (SyntaxItem("r", True), SyntaxItem(","), SyntaxItem("#"), SyntaxItem("n", True)),
        (Operand("r", REGISTER), Operand("n", BYTE)),
        ((CodeBits(7, 0b0100000), CodeBits(1, operand="r")), (CodeBits(8, operand="n"),)),
        "r = n;\n  zero = n == 0",
        (3, 3),
    ),
    Instruction("branch", (SyntaxItem("to", True),), (Operand("to", NEAR),), ((CodeBits(8, 3),),), clocks=(2, 4)),
)


def test_the_card() -> None:
    control = ControlProgram("steps", (), (), INSTRUCTIONS, (), ())
    report = card(Model(Path(), Machine("heron").netlist(), control=control))
    assert report.lines == (
        CardLine("load r, #n", ("0100000r", "nnnnnnnn"), (3, 3), "r = n; zero = n == 0"),
        CardLine("branch to", ("00000011",), (2, 4), ""),
    )
    assert report.operands == (
        CardOperand("byte", "8 bits, -128 to 255"),
        CardOperand("near", "8 bits, -128 to 127, counted from the next instruction"),
        CardOperand("reg", "acc, index"),
    )


def test_no_instructions() -> None:
    with pytest.raises(LatchworkError) as raised:
        card(Model(Path(), Machine("heron").netlist()))
    assert str(raised.value) == (
        "R401 this machine has no instructions (instructions come from a microprogram; this machine states none)"
    )
