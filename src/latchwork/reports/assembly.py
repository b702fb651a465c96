"""What is reported about an assembled or disassembled program."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class AssembledSymbol:
    """A label with its address space, or a constant (space "")."""

    name: str
    value: int
    space: str


@dataclass(frozen=True)
class AssemblyReport:
    """``words``: how many words go into each address space; ``files``: what was written into ``folder``."""

    machine: str
    program: str
    words: dict[str, int]
    symbols: tuple[AssembledSymbol, ...]
    listing: str
    symbol_table: str
    folder: str = ""
    files: tuple[str, ...] = ()


@dataclass(frozen=True)
class DisassembledLine:
    """An instruction or data, at an address of the section's space."""

    address: int
    words: tuple[int, ...]
    text: str
    label: str


@dataclass(frozen=True)
class DisassemblyReport:
    """``source``: text that assembles to the same words."""

    machine: str
    file: str
    section: str
    lines: tuple[DisassembledLine, ...]
    source: str
