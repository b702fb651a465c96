"""What a step asks for: the level of every line, in each case that conditions make."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from latchwork.languages.microprogram.errors import Findings, near
from latchwork.languages.microprogram.flat import FlatProgram, FlatStep, Setting
from latchwork.netlist import Line, Netlist

Cube = tuple[tuple[str, int], ...]
"""Conditions that hold together: (name, 0 or 1)."""


@dataclass(frozen=True)
class Case:
    """``levels``: line -> level, or None where it does not matter, for the lines that a step speaks of; the others
    are at rest."""

    conditions: Cube
    levels: tuple[tuple[str, int | None], ...]


@dataclass(frozen=True)
class Wish:
    """All cases of a step. Two steps with equal cases get equal words."""

    cases: tuple[Case, ...]
    settings: tuple[str, ...] = field(default=(), compare=False)
    step: FlatStep = field(default=FlatStep(()), compare=False)


class Vocabulary:
    """Lines and fields by name, and the level of each line at rest."""

    def __init__(self, program: FlatProgram, netlist: Netlist, findings: Findings) -> None:
        self.findings = findings
        self.lines: dict[str, Line] = netlist.line_named
        self.fields = {item.name: item for item in program.fields}
        self.rest: dict[str, int | None] = {line.name: line.rest for line in netlist.lines}
        for name, (level, _) in self.levels(program.rests).items():
            self.rest[name] = level
        self.at_rest = Wish((Case((), ()),))

    def wish(self, step: FlatStep) -> Wish:
        """What the step asks for."""
        cases = []
        for branch in step.branches:
            levels = {name: level for name, (level, _) in self.levels(branch.settings).items()}
            spoken = sorted(item for item in levels.items() if item[1] != self.rest.get(item[0]))
            cases.append(Case(tuple(sorted(branch.conditions)), tuple(spoken)))
        return Wish(tuple(cases), tuple(_written(step)), step)

    def levels(self, settings: Iterable[Setting]) -> dict[str, tuple[int | None, Setting]]:
        """Line -> level and the setting that asked for it."""
        found: dict[str, tuple[int | None, Setting]] = {}
        for setting in settings:
            for name, level in self._levels_of(setting):
                self._note(found, name, level, setting)
        return found

    def _note(self, found: dict[str, tuple[int | None, Setting]], name: str, level: int | None, by: Setting) -> None:
        earlier = found.get(name)
        if earlier is None or earlier[0] is None:
            found[name] = (level, by)
        elif level is not None and level != earlier[0]:
            message = (
                f"`{written(earlier[1])}` and `{written(by)}` ask for both levels of the line `{name}` in one step"
            )
            self.findings.add(
                "U206", message, (by.position, f"{level} here"), (earlier[1].position, f"{earlier[0]} here")
            )

    def _levels_of(self, setting: Setting) -> list[tuple[str, int | None]]:
        if setting.name in self.fields and setting.value:
            return self._field_levels(setting)
        line = self.lines.get(setting.name)
        if line is None:
            hint = near(setting.name, (*self.lines, *self.fields))
            self.findings.add("U120", f"the machine has no line `{setting.name}`", setting.position, help=hint)
            return []
        if line.hardware:
            message = f"the line `{line.name}` is set by hardware, not by control words"
            place = (line.position, "declared with hardware=True")
            self.findings.add("U201", message, setting.position, place)
            return []
        return [(line.name, int(setting.value) if setting.value else line.active)]

    def _field_levels(self, setting: Setting) -> list[tuple[str, int | None]]:
        field = self.fields[setting.name]
        values = dict(field.values)
        if setting.value not in values:
            message = f"the field `{field.name}` has no value `{setting.value}`"
            self.findings.add("U130", message, setting.position, help=near(setting.value, values))
            return []
        pairs = zip(field.lines, values[setting.value], strict=True)
        known = [(name, level) for name, level in pairs if name in self.lines]
        return known if len(known) == len(field.lines) else self._unknown_lines(field.lines, setting)

    def _unknown_lines(self, names: Sequence[str], setting: Setting) -> list[tuple[str, int | None]]:
        for name in names:
            if name not in self.lines:
                message = f"the field `{setting.name}` speaks of a line `{name}`, which the machine does not have"
                self.findings.add("U120", message, self.fields[setting.name].position, help=near(name, self.lines))
        return []


def written(setting: Setting) -> str:
    """As it stands in the source."""
    return f"{setting.name} = {setting.value}" if setting.value else setting.name


def _written(step: FlatStep) -> Iterable[str]:
    for branch in step.branches:
        when = " and ".join(name if level else f"not {name}" for name, level in branch.conditions)
        asked = ", ".join(written(setting) for setting in branch.settings) or "nothing"
        yield f"when {when}: {asked}" if when else asked
