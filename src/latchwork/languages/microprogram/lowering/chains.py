"""Steps of a machine whose word holds the next address, as groups of rows between which conditions choose."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import product

from latchwork.languages.microprogram.errors import Findings
from latchwork.languages.microprogram.flat import FlatBlock
from latchwork.languages.microprogram.lowering.context import Context
from latchwork.languages.microprogram.lowering.needs import Circumstances
from latchwork.languages.microprogram.lowering.rows import PlacedRow
from latchwork.languages.microprogram.lowering.wishes import Cube, Vocabulary
from latchwork.languages.microprogram.lowering.words import find_words

INTERRUPT = "interrupt "
"""The name under which the interrupt stands among conditions; no condition of a builder holds a space."""


@dataclass(eq=False)
class Group:
    """The rows of a step, one for each case of the conditions that choose between them by the next address."""

    names: tuple[str, ...]
    rows: dict[Cube, PlacedRow]
    numbers: dict[Cube, int] = field(default_factory=dict)  # where each row stands
    opcodes: dict[int, int] = field(default_factory=dict)  # opcode -> where its row stands, after a dispatch


class Chains:
    """Makes the groups. ``prefix``: how many steps all instructions share."""

    def __init__(self, context: Context) -> None:
        self.context = context
        self.blocks = context.blocks
        self.findings = context.findings
        self.prefix = 0

    def make(self) -> dict[str, list[Group]]:
        """Name of a block -> the groups of its own steps; what all begin with stands under the name of these steps."""
        first = self.blocks.first
        self.prefix = self.blocks.prefix(first)
        if not self.prefix:
            message = "instructions begin with nothing in common; a machine of this kind first fetches the opcode"
            self.findings.add("U234", message, first.position, help="write what all begin with as `shared` steps")
            self.findings.stop_if_any()
        chains = {}
        chains[self.blocks.fetch] = self._chain(first, 0, self.prefix, self.blocks.fetch)
        for block in self.own():
            if self.blocks.wishes(block)[: self.prefix] != self.blocks.wishes(first)[: self.prefix]:
                message = (
                    f"`{block.name}` does not begin with the steps of `{self.blocks.fetch}`, as `{first.name}` does"
                )
                self.findings.add("U225", message, block.position, first.position,
                                  help=f"begin it with `{self.blocks.fetch}`")  # fmt: skip
            elif len(block.steps) <= self.prefix:
                message = (
                    f"`{block.name}` has no steps of its own, and `{self.blocks.fetch}` leads to them by the opcode"
                )
                self.findings.add("U235", message, block.position, help="add a step; it may ask for `nothing`")
            chains[block.name] = self._chain(block, self.prefix, len(block.steps), block.name)
        if self.blocks.entry:
            entry = self.blocks.entry
            chains[entry.name] = self._chain(entry, 0, len(entry.steps), entry.name)
        self.findings.stop_if_any()
        return chains

    def own(self) -> list[FlatBlock]:
        illegal = self.blocks.illegal
        named = [illegal] if illegal in self.blocks.program.blocks and self.blocks.opcodes_of(illegal) else []
        return [*self.blocks.instructions, *named]

    def _chain(self, block: FlatBlock, low: int, high: int, name: str) -> list[Group]:
        wishes = self.blocks.wishes(block)
        opcodes = None if name == self.blocks.fetch or block.kind == "entry" else self.blocks.opcodes_of(block)
        found = []
        for step in range(low, high):
            names = self._choosing(block, step, opcodes)
            rows = {}
            for levels in product((0, 1), repeat=len(names)):
                cube = tuple(zip(names, levels, strict=True))
                where = Circumstances(cube, opcodes)
                rows[cube] = PlacedRow(name, step, wishes[step], where, [], True, block.steps[step].position)
            found.append(Group(names, rows))
        return found

    def _choosing(self, block: FlatBlock, step: int, opcodes: frozenset[int] | None) -> tuple[str, ...]:
        """The conditions of a step that the address has to tell apart: none where the lines themselves follow them."""
        spoken = sorted({name for branch in block.steps[step].branches for name, _ in branch.conditions})
        if not spoken:
            return ()
        wish = self.blocks.wishes(block)[step]
        quiet = Findings()
        trial = PlacedRow(block.name, step, wish, Circumstances((), opcodes), [])
        quiet_words = Vocabulary(self.blocks.program, self.context.netlist, quiet)
        find_words([trial], self.context.solver, quiet_words, self.context.sight, quiet)
        return () if not quiet.problems else tuple(spoken)
