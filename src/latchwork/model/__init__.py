"""The model: a netlist, what the builder states about it, its control program and ROM contents. Frozen."""

from latchwork.model.control import ControlProgram, Row
from latchwork.model.instructions import CodeBits, Instruction, Operand, OperandKind, SyntaxItem
from latchwork.model.model import Model
from latchwork.model.statements import (
    AttachedDevice,
    Copied,
    Halt,
    LoadedImage,
    MicroprogramBinding,
    Port,
    Section,
    SharedImage,
    Space,
    Statements,
    Table,
)

__all__ = [
    "AttachedDevice",
    "CodeBits",
    "ControlProgram",
    "Copied",
    "Halt",
    "Instruction",
    "LoadedImage",
    "MicroprogramBinding",
    "Model",
    "Operand",
    "OperandKind",
    "Port",
    "Row",
    "Section",
    "SharedImage",
    "Space",
    "Statements",
    "SyntaxItem",
    "Table",
]
