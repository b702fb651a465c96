"""The blocks of a program, what each opcode runs, and what all instructions begin with."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cached_property

from latchwork.languages.microprogram.errors import Findings
from latchwork.languages.microprogram.flat import FlatBlock, FlatProgram
from latchwork.languages.microprogram.lowering.wishes import Vocabulary, Wish

UNDEFINED = FlatBlock("illegal", "opcodes that nobody defined", ())


@dataclass
class Blocks:
    """``width``: bits of the opcode."""

    program: FlatProgram
    width: int
    vocabulary: Vocabulary
    findings: Findings

    @cached_property
    def instructions(self) -> tuple[FlatBlock, ...]:
        return tuple(block for block in self.program.blocks if block.kind == "instruction")

    @cached_property
    def entry(self) -> FlatBlock | None:
        return next((block for block in self.program.blocks if block.kind == "entry"), None)

    @cached_property
    def illegal(self) -> FlatBlock:
        """What opcodes run that no instruction has: the block that says so, or the first steps and then nothing."""
        said = next((block for block in self.program.blocks if block.kind == "illegal"), None)
        if said is not None or not self.instructions:
            return said or UNDEFINED
        steps = self.first.steps[: self.prefix(self.first)]
        return FlatBlock("illegal", UNDEFINED.name, steps)

    @cached_property
    def by_opcode(self) -> tuple[FlatBlock, ...]:
        """The block of each opcode."""
        found: list[FlatBlock | None] = [None] * (1 << self.width)
        for block in self.instructions:
            mask, value = block.opcode
            for opcode in _matching(mask & len(found) - 1, value, self.width):
                earlier = found[opcode]
                if earlier is not None and earlier is not block:
                    self._twice(opcode, earlier, block)
                found[opcode] = block
        return tuple(block or self.illegal for block in found)

    def _twice(self, opcode: int, earlier: FlatBlock, block: FlatBlock) -> None:
        message = f"`{earlier.name}` and `{block.name}` both have the opcode {opcode:0{self.width}b}"
        self.findings.add("U226", message, block.position, earlier.position, help="change the code of one of them")

    def opcodes_of(self, block: FlatBlock) -> frozenset[int]:
        return self._opcodes.get(block.name, frozenset())

    @cached_property
    def _opcodes(self) -> dict[str, frozenset[int]]:
        found: dict[str, set[int]] = {}
        for opcode, block in enumerate(self.by_opcode):
            found.setdefault(block.name, set()).add(opcode)
        return {name: frozenset(opcodes) for name, opcodes in found.items()}

    @cached_property
    def fetch(self) -> str:
        """The name of the shared steps with which instructions begin; "" where most begin otherwise."""
        names = Counter(block.steps[0].shared if block.steps else "" for block in self.instructions)
        name, count = names.most_common(1)[0] if names else ("", 0)
        return name if 2 * count > len(self.instructions) else ""

    @cached_property
    def first(self) -> FlatBlock:
        """The first instruction that begins as most do."""
        return next((block for block in self.instructions if self.prefix(block)), self.instructions[0])

    def prefix(self, block: FlatBlock) -> int:
        """How many steps at its beginning come from the shared first steps."""
        count = 0
        while self.fetch and count < len(block.steps) and block.steps[count].shared == self.fetch:
            count += 1
        return count

    def wishes(self, block: FlatBlock) -> tuple[Wish, ...]:
        """What each step of the block asks for."""
        if block.name not in self._wishes:
            self._wishes[block.name] = tuple(self.vocabulary.wish(step) for step in block.steps)
        return self._wishes[block.name]

    @cached_property
    def _wishes(self) -> dict[str, tuple[Wish, ...]]:
        return {}


def _matching(mask: int, value: int, width: int) -> list[int]:
    """The opcodes for which ``opcode & mask == value``."""
    found = [value & mask]
    for bit in range(width):
        if not mask >> bit & 1:
            found += [opcode | 1 << bit for opcode in found]
    return found
