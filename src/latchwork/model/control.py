"""The control program: what the microprogram became once the wiring had been read."""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.base.position import NOWHERE, Position
from latchwork.model.instructions import Instruction
from latchwork.netlist import ChipId, NetId


@dataclass(frozen=True)
class Row:
    """A word of the control store in use.

    ``addresses``: all logical addresses (bit i is the level of ``ControlProgram.address_nets[i]``) that hold it.
    ``word``: bit i is the level of ``ControlProgram.word_nets[i]``. ``block`` names the instruction, entry or
    shared block, ``step`` counts from 0, ``conditions`` are (name, 0 or 1). ``settings``: what the source asked.
    """

    block: str
    step: int
    conditions: tuple[tuple[str, int], ...]
    addresses: tuple[int, ...]
    word: int
    settings: tuple[str, ...]
    position: Position = NOWHERE


@dataclass(frozen=True)
class ControlProgram:
    """``form``: "steps" (store addressed by opcode, step and flags), "start" (opcode to start address through
    decode ROMs) or "next" (next address in the control word). ``address_nets`` and ``word_nets`` are the nets at
    address and data pins of the store, each once; ``opcodes`` maps each opcode to the block that it runs."""

    form: str
    address_nets: tuple[NetId, ...]
    word_nets: tuple[NetId, ...]
    instructions: tuple[Instruction, ...]
    rows: tuple[Row, ...]
    opcodes: tuple[tuple[int, str], ...]
    starts: tuple[tuple[str, int], ...] = ()  # block -> micro-address of its first own step (forms start, next)
    contents: tuple[tuple[ChipId, bytes], ...] = ()  # store and decode chips
    dont_care: int = 0  # word bits that no line depends on


def instruction_named(program: ControlProgram, mnemonic: str) -> tuple[Instruction, ...]:
    """All forms of a mnemonic."""
    return tuple(item for item in program.instructions if item.mnemonic == mnemonic)
