"""What the first pass leaves to the second: statements with their places, and lines for the listing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from latchwork.languages.assembly.errors import Unknown
from latchwork.languages.assembly.expressions import Expression
from latchwork.languages.assembly.forms import Form, Value, Written
from latchwork.languages.assembly.frames import Where
from latchwork.languages.assembly.target import Place


class Code(NamedTuple):
    """An instruction with its place."""

    where: Where
    place: Place
    address: int
    form: Form
    operands: list[Value]


class Data(NamedTuple):
    """Values of ``units`` words each; ``big``: highest first. ``least`` and ``most`` bound them."""

    where: Where
    place: Place
    address: int
    values: list[Written]
    units: int = 1
    bits: int = 8
    big: bool = False


class Raw(NamedTuple):
    """Words that are known already."""

    where: Where
    place: Place
    address: int
    words: bytes


class Claim(NamedTuple):
    """An assertion, for the end."""

    where: Where
    place: Place
    address: int
    expression: Expression
    message: str


Item = Code | Data | Raw | Claim


class Shown(NamedTuple):
    """A line that was walked over, for the listing; ``item``: index of what it made, -1 for nothing."""

    where: Where
    place: Place
    address: int
    item: int


@dataclass
class Late:
    """A value that was needed before its name was defined."""

    where: Where
    unknown: Unknown
    purpose: str
