"""Where a run spent its clocks, what it went through, and which memory cells it read and wrote."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class InstructionCount:
    """How often an instruction (by the name of its block) was begun, and the clocks that it took in all."""

    name: str
    count: int
    clocks: int


@dataclass(frozen=True)
class LineCount:
    """The same for a line of the program."""

    file: str
    line: int
    text: str
    count: int
    clocks: int


@dataclass(frozen=True)
class Coverage:
    """``reached`` of ``all``; ``missed`` names the others."""

    reached: int
    all: int
    missed: tuple[str, ...] = ()


@dataclass(frozen=True)
class CellCounts:
    """Reads and writes of an address space: (address, how often), cells without any left out."""

    reads: tuple[tuple[int, int], ...] = ()
    writes: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True)
class Profile:
    """``outside``: clocks before the first instruction began. Coverage is of the microprogram's instructions, of its
    steps as (block, step, conditions), and of the program's lines that are instructions."""

    clocks: int
    outside: int
    instructions: tuple[InstructionCount, ...] = ()
    lines: tuple[LineCount, ...] = ()
    instruction_coverage: Coverage = Coverage(0, 0)
    step_coverage: Coverage = Coverage(0, 0)
    line_coverage: Coverage = Coverage(0, 0)
    memory: dict[str, CellCounts] = field(default_factory=dict)
