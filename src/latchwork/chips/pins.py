"""Writing pins down shortly: a line of text a package, in the data sheet's own labels.

``dip("1A:i 1B:i 1Y:o 2A:i ... GND VCC")`` lists the pins 1, 2, 3, ... of a dual in-line package. After the colon
stands the direction: i input, o output, b both, p passive, n not connected. Labels become names: a bar "/" is
``_n`` at the end, a leading unit number moves behind the letters (``1A`` is A1, ``/1CLR`` is CLR1_n, ``1A2`` is
A1_2); another name is given after the last ``=``, as in ``Cn+4=Cn4:o`` and ``A=B=AB:o``.
"""

from __future__ import annotations

import re

from latchwork.parts import Direction, Pin

_DIRECTIONS = {
    "i": Direction.INPUT,
    "o": Direction.OUTPUT,
    "b": Direction.BOTH,
    "p": Direction.PASSIVE,
    "n": Direction.UNUSED,
}
_SUPPLIES = ("VCC", "VDD", "VCCA", "VCCB", "VPP")  # VPP: the programming supply, on VCC while reading
_GROUNDS = ("GND", "VSS", "VEE")  # VEE: of analog switches, at ground in a digital circuit
_SUPPLY = dict.fromkeys(_SUPPLIES, Direction.SUPPLY) | dict.fromkeys(_GROUNDS, Direction.GROUND)
_UNIT = re.compile(r"(\d+)([A-Za-z]+)(\d*)")


def dip(text: str) -> tuple[Pin, ...]:
    """The pins of a package in the order of their numbers. Raises ValueError on a pin without direction."""
    return tuple(_pin(word, number) for number, word in enumerate(text.split(), start=1))


def _pin(word: str, number: int) -> Pin:
    label, _, letter = word.partition(":")
    sheet, _, given = label.rpartition("=") if "=" in label else (label, "", "")
    if letter not in _DIRECTIONS and sheet not in _SUPPLY:
        raise ValueError(f"pin {number} ({word}) has no direction")
    direction = _DIRECTIONS[letter] if letter else _SUPPLY[sheet]
    return Pin(given or pin_name(sheet), number, direction, sheet)


def pin_name(sheet: str) -> str:
    """The Python name of a data-sheet label."""
    bare = sheet.removeprefix("/")
    unit = _UNIT.fullmatch(bare)
    if unit:
        bare = f"{unit[2]}{unit[1]}" + (f"_{unit[3]}" if unit[3] else "")
    return bare + ("_n" if sheet.startswith("/") else "")


def numbered(letter: str, count: int, first: int = 1, end: str = "") -> tuple[str, ...]:
    """Names of a row of pins: ``numbered("D", 8)`` is D1 .. D8, lowest bit first."""
    return tuple(f"{letter}{index}{end}" for index in range(first, first + count))
