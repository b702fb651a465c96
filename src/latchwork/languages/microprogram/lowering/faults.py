"""Why no control word does what a row wants, said in the builder's words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from latchwork.analysis.lines import LineCone
from latchwork.base.position import Position
from latchwork.languages.microprogram.errors import Findings, listed
from latchwork.languages.microprogram.flat import Setting
from latchwork.languages.microprogram.lowering.needs import Needs, cases_at, together
from latchwork.languages.microprogram.lowering.rows import PlacedRow
from latchwork.languages.microprogram.lowering.solver import Solver
from latchwork.languages.microprogram.lowering.wishes import Vocabulary, written
from latchwork.netlist.queries import chip_name


def explain(
    group: Sequence[PlacedRow],
    each: Sequence[Needs],
    place: int,
    *,
    solver: Solver,
    vocabulary: Vocabulary,
    findings: Findings,
) -> None:
    """Notes one problem for the rows of a group whose words must be equal and cannot be found."""
    for row, needs in zip(group, each, strict=True):
        if solver.answer(place, needs) is None:
            _Row(row, needs, place, solver=solver, vocabulary=vocabulary, findings=findings).explain()
            return
    _unseen(group, each, place, solver, findings)


def _unseen(group: Sequence[PlacedRow], each: Sequence[Needs], place: int, solver: Solver, findings: Findings) -> None:
    """Every row by itself has a word, but chips that see only a part of the address cannot tell them apart."""
    part = solver.parts[place]
    for (row, a), (other, b) in combinations(zip(group, each, strict=True), 2):
        if solver.answer(place, together((a, b))) is not None:
            continue
        store = solver.lines.store
        chips = sorted({chip for net in part.component.words for chip in store.chips_of_word[net]})
        names = " and ".join(chip_name(store.netlist, store.chips[chip].chip) for chip in chips)
        verb = "does" if len(chips) == 1 else "do"
        message = (
            f"{row.named} and {other.named} need different words, and {names} {verb} not see what tells them apart"
        )
        hint = "join an address pin of the chip to the net that differs"
        findings.add("U212", message, *dict.fromkeys((row.position, other.position)), help=hint)
        return
    row = group[0]
    findings.add("U212", f"no word fits {row.named} and all that share its address", row.position)


class _Row:
    """One row and one component that have no word."""

    def __init__(
        self,
        row: PlacedRow,
        needs: Needs,
        place: int,
        *,
        solver: Solver,
        vocabulary: Vocabulary,
        findings: Findings,
    ) -> None:
        self.row, self.needs, self.part = row, needs, solver.parts[place]
        self.lines = self.part.component.lines
        self.cones = solver.lines.cones
        self.netlist = solver.lines.netlist
        self.findings = findings
        self.asked = dict(self._asked(vocabulary))

    def _asked(self, vocabulary: Vocabulary) -> Iterator[tuple[str, Setting]]:
        quiet = Findings()
        spoken = {name for case in cases_at(self.row.wish, self.row.where.conditions) for name, _ in case.levels}
        loud, vocabulary.findings = vocabulary.findings, quiet
        for branch in self.row.wish.step.branches:
            for name, (_, setting) in vocabulary.levels(branch.settings).items():
                if name in spoken:
                    yield name, setting
        vocabulary.findings = loud

    def explain(self) -> None:
        for place in sorted(range(len(self.lines)), key=self._rank):
            if not self.part.alone(place, self.needs):
                self._one(place)
                return
        pairs = sorted(combinations(range(len(self.lines)), 2), key=lambda pair: sum(map(self._rank, pair)))
        for pair in pairs:
            if not self.part.choices(self.part.only(self.needs, pair)):
                self._two(*sorted(pair, key=self._rank))
                return
        self._many()

    def _rank(self, place: int) -> int:
        return 0 if self.lines[place].name in self.asked else 1

    def _place(self, name: str) -> Position:
        return self.asked[name].position if name in self.asked else self.row.position

    # ---- one line

    def _one(self, place: int) -> None:
        line, cone = self.lines[place], self.cones[self.lines[place].name]
        ones, zeros = self.needs[place]
        name, at, declared = line.name, self._place(line.name), (line.position, f"the line `{line.name}`")
        if ones & zeros:
            self._undecided(name, at)
        elif cone.unsure:
            hint = "state its level with `m.assume`, or when the line takes effect with phase={...}"
            self.findings.add("U207", f"the line `{name}` hangs on {cone.unsure[0]}, and nothing tells its level",
                              declared, at, help=hint)  # fmt: skip
        elif not cone.words:
            hint = "declare it with hardware=True if microprograms do not set it"
            self.findings.add("U202", f"no bit of the control store reaches the line `{name}`", declared, at, help=hint)
        elif name in self.asked:
            message = f"no control word gives `{name}` the level that {self.row.named} asks for{self._under(cone)}"
            self.findings.add("U204", message, at, declared)
        else:
            message = f"no control word keeps the line `{name}` at rest in {self.row.named}{self._under(cone)}"
            self.findings.add("U205", message, declared, at, help=f"its level at rest is stated as {line.rest}")

    def _under(self, cone: LineCone) -> str:
        names = [role.name for role in sorted(cone.outside) if role.kind == "condition"]
        if names:
            return f" whatever {listed(names)} may be"
        return " for every opcode" if any(role.kind == "opcode" for role in cone.outside) else ""

    def _undecided(self, name: str, at: Position) -> None:
        """Branches of a step want both levels of a line, and no condition reaches it."""
        spoken = {flag for case in self.row.wish.cases for flag, _ in case.conditions}
        known = {flag for flag, _ in self.row.where.conditions}
        reach = {role.name for role in self.cones[name].outside}
        names = sorted(spoken - known - reach) or sorted(spoken)
        verb = "does" if len(names) == 1 else "do"
        message = f"{listed(names)} {verb} not choose the line `{name}` in {self.row.named}"
        hint = f"lead {listed(names)} to an address pin of the control store, or through a selector into the line"
        self.findings.add("U211", message, at, self.row.position, help=hint)

    # ---- several lines

    def _two(self, a: int, b: int) -> None:
        one, two = self.lines[a].name, self.lines[b].name
        places = (self._place(one), self._place(two))
        if two in self.asked:
            decoder = self._decoder(one, two)
            how = (
                f"hang on one decoder, {decoder}, which sets one at a time" if decoder else "cannot be had in one step"
            )
            what = f"`{written(self.asked[one])}` and `{written(self.asked[two])}`"
            help = "spread them over two steps" if decoder else "look at the wiring that both hang on"
            self.findings.add("U203" if decoder else "U204", f"{what} {how}", *places, help=help)
        elif one in self.asked:
            message = f"no control word has `{written(self.asked[one])}` without `{two}`"
            self.findings.add("U204", message, places[0], (self.lines[b].position, f"the line `{two}`"),
                              help=f"ask for `{two}` as well, or change the wiring that both hang on")  # fmt: skip
        else:
            message = f"no control word keeps `{one}` and `{two}` at rest together"
            labels = ((self.lines[a].position, f"the line `{one}`"), (self.lines[b].position, f"the line `{two}`"))
            self.findings.add("U205", message, *labels, self.row.position)

    def _decoder(self, one: str, two: str) -> str:
        """The decoder that both lines come from."""
        shared = self.cones[one].chips & self.cones[two].chips
        found = [chip for chip in sorted(shared) if self.netlist.part_of(chip).kind == "decoder"]
        return chip_name(self.netlist, found[0]) if found else ""

    def _many(self) -> None:
        names = [line.name for line in self.lines if line.name in self.asked]
        message = f"no control word sets {listed(names)} together and keeps the other lines at rest in {self.row.named}"
        self.findings.add("U204", message, *[self._place(name) for name in names[:4]], self.row.position)
