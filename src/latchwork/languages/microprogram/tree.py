"""The syntax tree: what was written, block by block, before any name in it has been looked up."""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.base.position import Position
from latchwork.languages.microprogram.meaning import Statement


@dataclass(frozen=True)
class Word:
    """A word of the source and its place."""

    text: str
    position: Position


# ---- lines of a block


@dataclass(frozen=True)
class Ask:
    """A line or field asked for: ``value`` None for a line that is to be active.

    The texts may hold operands in brackets: ``[r]_take``. Without value it may also name a shared block.
    """

    name: Word
    value: Word | None = None


@dataclass(frozen=True)
class Use:
    """A macro used: ``bring(acc, [r])``."""

    name: Word
    arguments: tuple[Word, ...]


Item = Ask | Use


@dataclass(frozen=True)
class Flag:
    name: Word


@dataclass(frozen=True)
class NotFlag:
    condition: Condition


@dataclass(frozen=True)
class AllOf:
    conditions: tuple[Condition, ...]


@dataclass(frozen=True)
class AnyOf:
    conditions: tuple[Condition, ...]


Condition = Flag | NotFlag | AllOf | AnyOf


@dataclass(frozen=True)
class StepLine:
    items: tuple[Item, ...]
    position: Position


@dataclass(frozen=True)
class WhenLine:
    condition: Condition
    items: tuple[Item, ...]
    position: Position


@dataclass(frozen=True)
class OtherwiseLine:
    items: tuple[Item, ...]
    position: Position


@dataclass(frozen=True)
class MeaningLine:
    text: str
    statements: tuple[Statement, ...]
    position: Position


@dataclass(frozen=True)
class PinLine:
    address: Word
    position: Position


BodyLine = StepLine | WhenLine | OtherwiseLine | MeaningLine | PinLine
Body = tuple[BodyLine, ...]


# ---- blocks


@dataclass(frozen=True)
class OperandBlock:
    """``bits`` None: as many as the choices need. ``low``, ``high`` None: all that the bits can hold."""

    name: Word
    bits: Word | None = None
    choices: tuple[tuple[Word, Word], ...] = ()
    low: Word | None = None
    high: Word | None = None
    relative: bool = False


@dataclass(frozen=True)
class FieldValue:
    name: Word
    levels: str
    rest: bool


@dataclass(frozen=True)
class FieldBlock:
    name: Word
    lines: tuple[Word, ...]
    values: tuple[FieldValue, ...]


@dataclass(frozen=True)
class StepsBlock:
    """``shared`` (``parameters`` None) or ``macro``."""

    name: Word
    parameters: tuple[Word, ...] | None
    body: Body


@dataclass(frozen=True)
class InstructionBlock:
    form: tuple[Word, ...]
    operands: tuple[tuple[Word, Word], ...]
    code: tuple[Word, ...]
    body: Body


@dataclass(frozen=True)
class EntryBlock:
    name: Word
    body: Body


@dataclass(frozen=True)
class OtherBlock:
    """What all opcodes do that no instruction has."""

    use: Item | None
    body: Body
    position: Position


@dataclass(frozen=True)
class RestBlock:
    items: tuple[Item, ...]


@dataclass(frozen=True)
class WordBlock:
    bits: Word


@dataclass(frozen=True)
class IncludeBlock:
    path: Word


@dataclass(frozen=True)
class BrokenBlock:
    """A block with a line that could not be read. What it declares is known by name, so that uses of it don't
    give further problems; nothing else is checked."""

    kind: str
    name: Word


Block = (
    OperandBlock
    | FieldBlock
    | StepsBlock
    | InstructionBlock
    | EntryBlock
    | OtherBlock
    | RestBlock
    | WordBlock
    | IncludeBlock
    | BrokenBlock
)
