"""Steps written out: shared blocks and macros put in place, brackets replaced, branches made disjoint."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from latchwork.base.position import Position
from latchwork.languages.microprogram import tree
from latchwork.languages.microprogram.conditions import (
    MOST_FLAGS,
    Case,
    case_in_words,
    cases,
    cubes,
    flags,
    holds,
)
from latchwork.languages.microprogram.declarations import Declarations
from latchwork.languages.microprogram.errors import Findings, counted, near
from latchwork.languages.microprogram.flat import Branch, FlatStep, Setting
from latchwork.languages.microprogram.names import Names
from latchwork.languages.microprogram.settings import check_settings, checked_setting

MOST_STEPS = 256
DEEPEST_USE = 32
LONGEST_NAME = 100
_MOST_EXPANSIONS = 10_000  # of different blocks with different arguments, in a whole program
_BRACKETS = re.compile(r"\[(\w+)\]")
_BranchLine = tree.WhenLine | tree.OtherwiseLine
_Group = tree.StepLine | tuple[_BranchLine, ...]


@dataclass(frozen=True)
class Scope:
    """What brackets stand for, and in which blocks the steps are being written out, innermost last.

    ``reasons``: why a name that exists can't stand in brackets.
    """

    words: Mapping[str, str]
    chain: tuple[str, ...] = ()
    reasons: Mapping[str, str] = field(default_factory=dict)


@dataclass
class Expander:
    """Writes out the steps of blocks. What was written out once is kept: a shared block is the same everywhere."""

    declared: Declarations
    names: Names
    findings: Findings
    _kept: dict[tuple[str, tuple[str, ...]], tuple[FlatStep, ...]] = field(default_factory=dict)

    def steps(self, body: tree.Body, scope: Scope) -> tuple[FlatStep, ...]:
        """The steps of a body, in order."""
        found: list[FlatStep] = []
        for group in groups(body, self.findings):
            found.extend(self._group(group, scope))
            if len(found) > MOST_STEPS:
                return self._too_many(group, found)
        return tuple(found)

    def _too_many(self, group: _Group, found: list[FlatStep]) -> tuple[FlatStep, ...]:
        position = group.position if isinstance(group, tree.StepLine) else group[0].position
        self.findings.add("U127", f"with this line the block has more than {MOST_STEPS} steps", position)
        return tuple(found[: MOST_STEPS + 1])  # one too many: who uses this block has too many as well

    def _group(self, group: _Group, scope: Scope) -> tuple[FlatStep, ...]:
        if not isinstance(group, tree.StepLine):
            return (self._branching(group, scope),)
        if len(group.items) == 1:
            used = self._use(group.items[0], scope)
            if used is not None:
                return tuple(replace(step, shared=step_name(group.items[0], scope)) for step in used)
        return (FlatStep((Branch((), self._settings(group.items, scope), group.position),), group.position),)

    # ---- shared steps and macros

    def use(self, item: tree.Item, scope: Scope) -> tuple[FlatStep, ...]:
        """The steps of a shared block or macro that must be there."""
        used = self._use(item, scope)
        if used is None:
            self._unknown_steps(item.name)
            return ()
        return tuple(replace(step, shared=step_name(item, scope)) for step in used)

    def _use(self, item: tree.Item, scope: Scope) -> tuple[FlatStep, ...] | None:
        """The steps that an item stands for; None where it is a line or field."""
        if isinstance(item, tree.Ask) and item.value is not None:
            return None
        name = step_name(item, scope)
        if name in self.declared.broken:
            return ()
        block = self.declared.steps.get(name)
        if block is None:
            if isinstance(item, tree.Use):
                self._unknown_steps(item.name)
                return ()
            return None
        arguments = tuple(self._filled(word, scope) for word in item.arguments) if isinstance(item, tree.Use) else ()
        return self._block(block, item, arguments, scope) if self._fits(block, item) else ()

    def _unknown_steps(self, name: tree.Word) -> None:
        known = self.declared.steps
        message = f"no shared steps or macro `{name.text}`"
        self.findings.add("U121", message, name.position, help=near(name.text, known) or "declare them: `shared NAME`")

    def _fits(self, block: tree.StepsBlock, item: tree.Item) -> bool:
        given = len(item.arguments) if isinstance(item, tree.Use) else 0
        wanted = len(block.parameters or ())
        if given == wanted and (block.parameters is not None or isinstance(item, tree.Ask)):
            return True
        if block.parameters is None:
            message, hint = f"`{block.name.text}` is shared steps and takes no arguments", "a `macro` takes arguments"
        else:
            message = f"`{block.name.text}` takes {counted(wanted, 'argument')}, not {given}"
            hint = f"write `{block.name.text}({', '.join(word.text for word in block.parameters)})`"
        self.findings.add("U122", message, item.name.position, (block.name.position, "declared here"), help=hint)
        return False

    def _block(
        self, block: tree.StepsBlock, item: tree.Item, arguments: tuple[str, ...], scope: Scope
    ) -> tuple[FlatStep, ...]:
        name = block.name.text
        if name in scope.chain:
            circle = " uses ".join(f"`{each}`" for each in (*scope.chain[scope.chain.index(name) :], name))
            self.findings.add("U123", f"{circle}", item.name.position, help="steps can't use themselves")
            return ()
        key = (name, arguments)
        if key not in self._kept and (len(scope.chain) >= DEEPEST_USE or len(self._kept) >= _MOST_EXPANSIONS):
            what = f"within each other more than {DEEPEST_USE} deep" if len(scope.chain) >= DEEPEST_USE else "too often"
            self.findings.add("U127", f"shared steps and macros are used {what}", item.name.position)
            return ()
        if key not in self._kept:
            words = dict(zip((word.text for word in block.parameters or ()), arguments, strict=True))
            self._kept[key] = self.steps(block.body, Scope(words, (*scope.chain, name)))
        return self._kept[key]

    # ---- settings

    def _settings(self, items: Sequence[tree.Item], scope: Scope) -> tuple[Setting, ...]:
        """What the items of one step ask for, one-step blocks among them included; checked against each other."""
        found: list[Setting] = []
        for item in items:
            used = self._use(item, scope)
            found.extend(self._setting(item, scope) if used is None else self._only_step(used, item))
        return check_settings(found, self.declared.fields, self.findings)

    def _setting(self, item: tree.Item, scope: Scope) -> list[Setting]:
        value = getattr(item, "value", None)
        name = tree.Word(self._filled(item.name, scope), item.name.position)
        filled = tree.Word(self._filled(value, scope), value.position) if value else None
        made = checked_setting(name, filled, self.declared, self.names, self.findings)
        return [made] if made else []

    def _only_step(self, used: tuple[FlatStep, ...], item: tree.Item) -> tuple[Setting, ...]:
        if len(used) == 1 and not used[0].branches[0].conditions:
            return used[0].branches[0].settings
        if used:
            what = counted(len(used), "step") if len(used) > 1 else "branches"
            message = f"`{item.name.text}` has {what} and can't be part of a step"
            self.findings.add("U124", message, item.name.position, help="give it a line of its own")
        return ()

    def _filled(self, word: tree.Word, scope: Scope) -> str:
        """A name with its brackets replaced by the words they stand for."""

        def replaced(found: re.Match[str]) -> str:
            if found[1] not in scope.words:
                self._empty_brackets(found[1], word.position, scope)
            return scope.words.get(found[1], found[1])

        filled = _BRACKETS.sub(replaced, word.text)
        if len(filled) > LONGEST_NAME:
            message = f"this name grows to {len(filled)} characters; {LONGEST_NAME} is the most"
            self.findings.add("U127", message, word.position)
        return filled[:LONGEST_NAME]

    def _empty_brackets(self, name: str, position: Position, scope: Scope) -> None:
        reason = scope.reasons.get(name)
        hint = reason or near(name, scope.words) or "in brackets stands a word operand or a parameter of the macro"
        self.findings.add("U125", f"`[{name}]` stands for nothing here", position, help=hint)

    # ---- branches

    def _branching(self, lines: tuple[_BranchLine, ...], scope: Scope) -> FlatStep:
        step = lines[0].position
        conditions = [
            self._condition(line.condition, scope) if isinstance(line, tree.WhenLine) else None for line in lines
        ]
        settings = [self._settings(line.items, scope) for line in lines]
        asked = {word.text: word for condition in conditions if condition for word in flags(condition)}
        self._known_flags(asked)
        if len(asked) > MOST_FLAGS:
            message = f"this step asks about {len(asked)} conditions; {MOST_FLAGS} is the most"
            self.findings.add("U145", message, step)
            return FlatStep((), step)
        names = list(asked)
        shares = self._shares(names, lines, conditions)
        branches = [
            Branch(cube, asks, line.position)
            for line, share, asks in zip(lines, shares, settings, strict=True)
            for cube in cubes(names, share)
        ]
        return FlatStep(tuple(branches), step)

    def _condition(self, condition: tree.Condition, scope: Scope) -> tree.Condition:
        match condition:
            case tree.Flag(name):
                return tree.Flag(tree.Word(self._filled(name, scope), name.position))
            case tree.NotFlag(inner):
                return tree.NotFlag(self._condition(inner, scope))
            case tree.AllOf(inner):
                return tree.AllOf(tuple(self._condition(each, scope) for each in inner))
            case tree.AnyOf(inner):
                return tree.AnyOf(tuple(self._condition(each, scope) for each in inner))

    def _known_flags(self, asked: Mapping[str, tree.Word]) -> None:
        known = self.names.conditions
        for name, word in asked.items():
            if known is not None and name not in known:
                message = f"`{name}` is no condition of the machine"
                self.findings.add("U144", message, word.position, help=near(name, known))

    def _shares(
        self, names: list[str], lines: Sequence[_BranchLine], conditions: Sequence[tree.Condition | None]
    ) -> list[frozenset[Case]]:
        """The cases of each line; reports cases that two lines have, or none, and lines that have none."""
        shares: list[list[Case]] = [[] for _ in lines]
        seen: set[int] = set()
        for case in cases(len(names)):
            levels = dict(zip(names, case, strict=True))
            true = [i for i, condition in enumerate(conditions) if condition and holds(condition, levels)]
            true = true or [i for i, condition in enumerate(conditions) if condition is None]
            seen.update(true)
            for index in true[:1]:
                shares[index].append(case)
            if len(true) != 1:
                self._wrong_case(case_in_words(names, case), [lines[index] for index in true], lines[0])
        for index, line in enumerate(lines):
            if index not in seen:
                self._never(line)
        return [frozenset(share) for share in shares]

    def _wrong_case(self, case: str, true: list[_BranchLine], first: _BranchLine) -> None:
        if true:
            message = f"two branches of one step hold when {case}"
            hint = "a step ends after `otherwise`; a further `when` before it is a branch of the same step"
            self.findings.add("U140", message, true[1].position, (true[0].position, "the other one"), help=hint)
        else:
            message = f"no branch of this step says what happens when {case}"
            self.findings.add("U141", message, first.position, help="add `otherwise` with the lines, or with `nothing`")

    def _never(self, line: _BranchLine) -> None:
        what = "this condition" if isinstance(line, tree.WhenLine) else "`otherwise`"
        hint = "the branches above leave it no case, or it contradicts itself"
        self.findings.add("U142", f"{what} never holds", line.position, help=hint)


def step_name(item: tree.Item, scope: Scope) -> str:
    """The name an item has once its brackets are replaced."""
    return _BRACKETS.sub(lambda found: scope.words.get(found[1], found[1]), item.name.text)


def groups(body: tree.Body, findings: Findings) -> list[_Group]:
    """The lines of a body as steps: lines with ``when`` and the ``otherwise`` that ends them are one step."""
    found: list[_Group] = []
    branches: list[_BranchLine] = []
    for line in body:
        if isinstance(line, tree.WhenLine):
            branches.append(line)
            continue
        if isinstance(line, tree.OtherwiseLine):
            if not branches:
                hint = "`otherwise` is the last branch of a step whose first line begins with `when`"
                findings.add("U143", "`otherwise` without `when` before it", line.position, help=hint)
                continue
            branches.append(line)
        if branches:
            found.append(tuple(branches))
            branches = []
        if isinstance(line, tree.StepLine):
            found.append(line)
    return [*found, tuple(branches)] if branches else found
