"""The expanded microprogram: what is left once shared steps, macros and operand choices have been written out.

The parser makes it; lowering reads it and nothing else of the language.
"""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.base.position import NOWHERE, Position
from latchwork.model import Instruction


@dataclass(frozen=True)
class Field:
    """Several lines set together by a named value. ``values``: name -> level of each line, None: does not matter."""

    name: str
    lines: tuple[str, ...]
    values: tuple[tuple[str, tuple[int | None, ...]], ...]
    position: Position = NOWHERE


@dataclass(frozen=True)
class Setting:
    """One thing asked of a step: a line to be active (``value`` ""), or a field to have a named value.

    A line may also be asked for with the value "0" or "1", its plain level.
    """

    name: str
    value: str = ""
    position: Position = NOWHERE


@dataclass(frozen=True)
class Branch:
    """What a step asks while the conditions hold. ``conditions``: (name, 0 or 1), all of them; () for always."""

    conditions: tuple[tuple[str, int], ...]
    settings: tuple[Setting, ...]
    position: Position = NOWHERE


@dataclass(frozen=True)
class FlatStep:
    """One step. Its branches exclude each other and cover every case."""

    branches: tuple[Branch, ...]
    position: Position = NOWHERE
    shared: str = ""  # name of the shared block or macro that it came from


@dataclass(frozen=True)
class FlatBlock:
    """An instruction for one choice of its word operands, an entry (interrupt), or what unused opcodes do.

    ``opcode``: (mask, value): an opcode belongs to the block where ``code & mask == value``; (0, 0) and
    ``kind`` "illegal" for all opcodes that no instruction has; entries have (0, 0). ``name`` is unique:
    "load acc, #n". ``pinned``: micro-address that the source fixes, or -1. ``meaning``: its register-transfer text.
    """

    kind: str  # "instruction", "entry", "illegal"
    name: str
    steps: tuple[FlatStep, ...]
    opcode: tuple[int, int] = (0, 0)
    instruction: Instruction | None = None
    pinned: int = -1
    position: Position = NOWHERE
    meaning: str = ""


@dataclass(frozen=True)
class FlatProgram:
    """All blocks of a machine, entries and what unused opcodes do among them.

    ``instructions``: what an assembler may write. ``rests``: levels or field values that hold where a step says
    nothing. ``source``: the file that was named; ``sources``: all that were read, that one first. The lines that end an
    instruction or choose the next one are ordinary settings; nothing here knows what they do.
    """

    blocks: tuple[FlatBlock, ...]
    fields: tuple[Field, ...]
    instructions: tuple[Instruction, ...]
    rests: tuple[Setting, ...] = ()
    source: str = ""
    sources: tuple[str, ...] = ()
