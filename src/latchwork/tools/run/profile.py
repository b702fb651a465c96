"""Counting while a machine runs: clocks by instruction and line, coverage, reads and writes of memory cells."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from latchwork.languages.assembly.program import ListedLine
from latchwork.model import Row
from latchwork.reports.profile import CellCounts, Coverage, InstructionCount, LineCount, Profile
from latchwork.tools.run.running import Running

Step = tuple[str, int, tuple[tuple[str, int], ...]]


class Profiler:
    """Looks after every tick of a run from now on; ``with_cells`` counts reads and writes of memories as well."""

    def __init__(self, machine: Running, with_cells: bool = True) -> None:
        self._machine = machine
        self._clocks = self._start = machine.clocks
        self._steps: Counter[Step] = Counter()
        self._by_name: dict[str, list[int]] = {}
        self._by_address: dict[int | None, list[int]] = {}
        self._address: int | None = None
        self._name = ""
        self._here = self._outside = 0
        self._began = False
        self._own = _own_blocks(machine)
        spaces = machine.model.statements.spaces if with_cells else ()
        self._accesses = {space.name: machine.accesses(space.name) for space in spaces}
        self._reads: dict[str, Counter[int]] = {name: Counter() for name in self._accesses}
        self._writes: dict[str, Counter[int]] = {name: Counter() for name in self._accesses}
        for accesses in self._accesses.values():
            accesses.prime()
        machine.on_tick.append(self.sample)

    def sample(self) -> None:
        """Look after a tick."""
        if self._machine.clocks != self._clocks:
            self._clock()
        for name, accesses in self._accesses.items():
            accesses.sample()
            self._reads[name].update(accesses.read)
            self._writes[name].update(accesses.begun)

    def _clock(self) -> None:
        passed, self._clocks = self._machine.clocks - self._clocks, self._machine.clocks
        row = self._machine.microstep
        if self._machine.begins:
            self._close()
            self._began, self._address = True, self._machine.instruction_address
        self._here += passed
        if row and row.block:
            self._steps[_step(row)] += 1
            if row.block in self._own:
                self._name = row.block

    def _close(self) -> None:
        """The clocks since the last instruction began are its own."""
        if not self._began:
            self._outside += self._here
        else:
            for counts in (
                self._by_name.setdefault(self._name, [0, 0]),
                self._by_address.setdefault(self._address, [0, 0]),
            ):
                counts[0] += 1
                counts[1] += self._here
        self._here, self._name = 0, ""

    def profile(self) -> Profile:
        """What was counted; the instruction under way counts as begun. Ends the counting."""
        self._close()
        self._machine.on_tick.remove(self.sample)
        lines = self._lines()
        return Profile(
            clocks=self._machine.clocks - self._start,
            outside=self._outside,
            instructions=self._instructions(),
            lines=lines,
            instruction_coverage=_coverage(self._own, self._by_name),
            step_coverage=_coverage(map(_words, self._all_steps()), {_words(step) for step in self._steps}),
            line_coverage=_coverage(map(_place, self._instruction_lines()), {f"{x.file}:{x.line}" for x in lines}),
            memory={
                name: CellCounts(tuple(sorted(self._reads[name].items())), tuple(sorted(self._writes[name].items())))
                for name in self._accesses
            },
        )

    def _instructions(self) -> tuple[InstructionCount, ...]:
        rows = [InstructionCount(name or "not known", count, clocks) for name, (count, clocks) in self._by_name.items()]
        return tuple(sorted(rows, key=lambda row: (-row.clocks, row.name)))

    def _lines(self) -> tuple[LineCount, ...]:
        """In the order of the files. Lines that a macro made count for the place where they were written."""
        program, space = self._machine.assembled, self._machine.program_space
        found: dict[tuple[str, int], LineCount] = {}
        for address, (count, clocks) in self._by_address.items():
            line = program.line_at(space.name, address) if program and space and address is not None else None
            if line:
                at = line.position.file, line.position.line
                before = found.get(at, LineCount(*at, line.text.strip(), 0, 0))
                found[at] = LineCount(*at, before.text, before.count + count, before.clocks + clocks)
        return tuple(found[at] for at in sorted(found))

    def _instruction_lines(self) -> Iterator[ListedLine]:
        program = self._machine.assembled
        yield from (line for line in program.lines if line.clocks != (0, 0)) if program else ()

    def _all_steps(self) -> Iterator[Step]:
        control = self._machine.model.control
        yield from (_step(row) for row in control.rows if row.block) if control else ()


def _own_blocks(machine: Running) -> list[str]:
    """Blocks that are instructions of their own, or what other opcodes and interrupts do; no shared steps."""
    control = machine.model.control
    if control is None:
        return []
    named = [name for _, name in control.opcodes]
    entries = [row.block for row in control.rows if row.block.startswith("interrupt")]
    return list(dict.fromkeys((*named, *entries)))


def _step(row: Row) -> Step:
    return row.block, row.step, row.conditions


def _words(step: Step) -> str:
    block, number, conditions = step
    when = "".join(f", {'' if level else 'not '}{name}" for name, level in conditions)
    return f"step {number} of {block}{when}"


def _place(line: ListedLine) -> str:
    return f"{line.position.file}:{line.position.line}"


def _coverage(wanted: Iterable[str], reached: Iterable[str]) -> Coverage:
    names, found = list(dict.fromkeys(wanted)), set(reached)
    missed = tuple(name for name in names if name not in found)
    return Coverage(len(names) - len(missed), len(names), missed)
