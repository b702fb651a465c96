"""What a microprogram declares: operand kinds, fields, shared steps and macros, each name once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from latchwork.base.position import Position
from latchwork.languages.microprogram import tree
from latchwork.languages.microprogram.errors import Findings, counted
from latchwork.languages.microprogram.flat import Field, Setting
from latchwork.languages.microprogram.numbers import number
from latchwork.model import OperandKind

WIDEST_WORD = 16
WIDEST_OPERAND = 64


@dataclass
class Declarations:
    """``word``: width of a code word. ``broken``: names whose declaration could not be read."""

    word: int = 8
    kinds: dict[str, OperandKind] = field(default_factory=dict)
    fields: dict[str, Field] = field(default_factory=dict)
    steps: dict[str, tree.StepsBlock] = field(default_factory=dict)
    rests: list[Setting] = field(default_factory=list)
    broken: set[str] = field(default_factory=set)


def declare(blocks: Sequence[tree.Block], findings: Findings) -> Declarations:
    """Gathers all declarations and reports names declared twice and numbers out of range."""
    declared = Declarations()
    seen: dict[str, tree.Word] = {}
    for block in blocks:
        if isinstance(block, tree.OperandBlock):
            if _is_new(block.name, seen, findings, group="operand "):
                declared.kinds[block.name.text] = _kind(block, findings)
        elif isinstance(block, tree.FieldBlock | tree.StepsBlock):
            if _is_new(block.name, seen, findings):
                _declare_named(block, declared, findings)
        elif isinstance(block, tree.WordBlock):
            if _is_new(tree.Word("word", block.bits.position), seen, findings, group="directive "):
                declared.word = _in_range(block.bits, 1, WIDEST_WORD, "the width of a code word", findings)
        elif isinstance(block, tree.BrokenBlock):
            declared.broken.add(block.name.text)
    return declared


def _declare_named(block: tree.FieldBlock | tree.StepsBlock, declared: Declarations, findings: Findings) -> None:
    if isinstance(block, tree.StepsBlock):
        declared.steps[block.name.text] = block
        _each_once(block.parameters or (), "parameter", findings)
        return
    made = _field(block, findings)
    declared.fields[made.name] = made
    rests = [value for value in block.values if value.rest]
    declared.rests.extend(Setting(made.name, value.name.text, value.name.position) for value in rests[:1])
    for value in rests[1:]:
        findings.add(
            "U106",
            f"field `{made.name}` has two values for rest",
            value.name.position,
            (rests[0].name.position, "the first one"),
        )


def _is_new(name: tree.Word, seen: dict[str, tree.Word], findings: Findings, group: str = "") -> bool:
    first = seen.setdefault(group + name.text, name)
    if first is not name:
        findings.add(
            "U106",
            f"`{name.text}` is declared twice",
            name.position,
            (first.position, "first declared here"),
            help="operand kinds have names of their own; fields, shared steps and macros must differ",
        )
    return first is name


def _each_once(names: Iterable[tree.Word], thing: str, findings: Findings) -> None:
    seen: dict[str, Position] = {}
    for name in names:
        first = seen.setdefault(name.text, name.position)
        if first != name.position:
            findings.add(
                "U106", f"{thing} `{name.text}` is declared twice", name.position, (first, "first declared here")
            )


def _in_range(word: tree.Word, low: int, high: int, what: str, findings: Findings) -> int:
    """The number written, brought into its range after a complaint where it is outside."""
    value = number(word.text)
    if not low <= value <= high:
        findings.add("U105", f"{what} is {word.text}; it can be {low} to {high}", word.position)
    return min(max(value, low), high)


# ---- operands


def _kind(block: tree.OperandBlock, findings: Findings) -> OperandKind:
    return _words(block, findings) if block.choices else _number(block, findings)


def _words(block: tree.OperandBlock, findings: Findings) -> OperandKind:
    """An operand of words; it has as many bits as its values need, where it doesn't say."""
    name = block.name.text
    needed = max(1, *(min(number(value.text), 2**WIDEST_WORD).bit_length() for _, value in block.choices))
    bits = _in_range(block.bits, 1, WIDEST_WORD, f"the width of `{name}`", findings) if block.bits else needed
    bits = min(bits, WIDEST_WORD)
    choices = tuple(
        (word.text, _in_range(value, 0, 2**bits - 1, f"the code of `{word.text}`", findings))
        for word, value in block.choices
    )
    _each_once((word for word, _ in block.choices), "word", findings)
    _codes_differ(block, findings)
    return OperandKind(name, bits, choices, position=block.name.position)


def _codes_differ(block: tree.OperandBlock, findings: Findings) -> None:
    seen: dict[int, tree.Word] = {}
    for word, value in block.choices:
        first = seen.setdefault(number(value.text), word)
        if first is not word:
            findings.add(
                "U106",
                f"`{first.text}` and `{word.text}` have one code, {value.text}",
                word.position,
                (first.position, f"`{first.text}`"),
                help="a code must say which word was written",
            )


def _number(block: tree.OperandBlock, findings: Findings) -> OperandKind:
    name = block.name.text
    written = block.bits or tree.Word("8", block.name.position)
    bits = _in_range(written, 1, WIDEST_OPERAND, f"the width of `{name}`", findings)
    smallest, largest = -(2 ** (bits - 1)), 2**bits - 1
    low, high = (smallest, 2 ** (bits - 1) - 1) if block.relative else (0, largest)
    if block.low and block.high:
        low = _in_range(block.low, smallest, largest, f"the least value of `{name}`", findings)
        high = _in_range(block.high, smallest, largest, f"the largest value of `{name}`", findings)
        if low > high:
            message = f"`{name}` goes from {block.low.text} down to {block.high.text}"
            findings.add("U105", message, block.low.position, help="write the smaller number first")
    return OperandKind(name, bits, (), low, high, block.relative, block.name.position)


# ---- fields


def _field(block: tree.FieldBlock, findings: Findings) -> Field:
    name, count = block.name.text, len(block.lines)
    _each_once(block.lines, "line", findings)
    _each_once((value.name for value in block.values), "value", findings)
    if not block.values:
        findings.add(
            "U131",
            f"field `{name}` has no values",
            block.name.position,
            help="below it, one indented line a value: its name and the level of each line",
        )
    for value in block.values:
        if len(value.levels) != count:
            given, wanted = counted(len(value.levels), "level"), counted(count, "line")
            lines = (block.name.position, " ".join(line.text for line in block.lines))
            message = f"`{value.name.text}` gives {given}; `{name}` has {wanted}"
            findings.add("U131", message, value.name.position, lines)
    values = tuple((value.name.text, _levels(value.levels, count)) for value in block.values)
    return Field(name, tuple(line.text for line in block.lines), values, block.name.position)


def _levels(written: str, count: int) -> tuple[int | None, ...]:
    return tuple(None if level == "-" else int(level) for level in written[:count].ljust(count, "-"))
