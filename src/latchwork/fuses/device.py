"""The devices: which pin is which column of the array, and which fuses belong to which macrocell.

Fuses of the array are numbered row by row; a pin has two columns, itself (even) and its complement (odd). A fuse that
is 0 connects its column to the product term of its row.

Sources: the logic diagrams of the data sheets GAL16V8, GAL20V8 and GAL22V10 (Lattice Semiconductor; ATF16V8, ATF20V8
and ATF22V10 of Atmel are the same), from memory; tests/fuses/test_maps.py has the numbers once more as plain lists.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cache


class Mode(Enum):
    """What the fuses SYN and AC0 of a 16V8 or 20V8 set for all macrocells; a 22V10 has one mode."""

    SIMPLE = "simple"
    COMPLEX = "complex"
    REGISTERED = "registered"
    ONLY = "only"


@dataclass(frozen=True)
class Cell:
    """A macrocell as it is used. ``rows``: its product terms. ``enable_row``: the term that turns its output on, -1
    where there is none; ``enable_pin``: a pin that turns it on while low, 0 where there is none. ``polarity`` and
    ``kind``: fuses that choose the level and (0 a register) the kind."""

    pin: int
    rows: range
    enable_row: int
    enable_pin: int
    polarity: int
    kind: int


@dataclass(frozen=True)
class Device:
    """``sizes``: numbers of fuses with which files of it are written, the usual one first. ``inputs`` and ``outputs``:
    pins; ``reset_row``, ``preset_row``: -1 where there is none. ``signature``: the fuses that users may write on."""

    name: str
    pins: int
    columns: int
    rows: int
    sizes: tuple[int, ...]
    outputs: tuple[int, ...]
    clock: int = 1
    enable: int = 0
    reset_row: int = -1
    preset_row: int = -1

    @property
    def array(self) -> int:
        """How many fuses the array has; all others come after them."""
        return self.columns * self.rows

    @property
    def has_modes(self) -> bool:
        return self.enable > 0

    @property
    def inputs(self) -> tuple[int, ...]:
        supplies = (self.pins // 2, self.pins)
        return tuple(pin for pin in range(1, self.pins + 1) if pin not in (*self.outputs, *supplies))

    # Architecture fuses of the devices with modes, in their order behind the array

    @property
    def signature(self) -> range:
        start = self.array + (8 if self.has_modes else 20)
        return range(start, start + 64)

    @property
    def term_enables(self) -> int:
        """The first of the fuses that (at 1) let the product terms in."""
        return self.array + 80

    @property
    def syn(self) -> int:
        return self.term_enables + self.rows

    @property
    def ac0(self) -> int:
        return self.syn + 1

    def row(self, number: int) -> range:
        """The fuses of a product term."""
        return range(number * self.columns, (number + 1) * self.columns)


V16 = Device("16V8", 20, 32, 64, (2194,), tuple(range(19, 11, -1)), enable=11)
V20 = Device("20V8", 24, 40, 64, (2706,), tuple(range(22, 14, -1)), enable=13)
V22 = Device("22V10", 24, 44, 132, (5892, 5828), tuple(range(23, 13, -1)), reset_row=0, preset_row=131)
DEVICES = {device.name: device for device in (V16, V20, V22)}

_TERMS = (8, 10, 12, 14, 16, 16, 14, 12, 10, 8)  # of the macrocells of a 22V10, from pin 23 down
_SETTINGS = {(1, 0): Mode.SIMPLE, (1, 1): Mode.COMPLEX, (0, 1): Mode.REGISTERED}  # SYN, AC0


def mode_of(device: Device, fuses: str) -> Mode | None:
    """The mode that the fuses set; None where the data sheet gives their combination no meaning."""
    if not device.has_modes:
        return Mode.ONLY
    return _SETTINGS.get((int(fuses[device.syn]), int(fuses[device.ac0])))


def mode_fuses(device: Device, mode: Mode) -> dict[int, int]:
    """The fuses that set a mode."""
    found = [levels for levels, each in _SETTINGS.items() if each is mode]
    return {device.syn: found[0][0], device.ac0: found[0][1]} if found else {}


@cache
def columns(device: Device, mode: Mode) -> dict[int, int]:
    """Pin -> its column; a pin that can't be read in that mode is missing."""
    if device is V22:
        left, right = (*range(1, 12),), (*range(23, 13, -1), 13)
        sides = enumerate(zip(left, right, strict=True))
        return {pin: 4 * index + 2 * side for index, pair in sides for side, pin in enumerate(pair)}
    inputs = range(2, 2 + device.columns // 4)
    return {pin: 4 * index for index, pin in enumerate(inputs)} | {
        pin: 4 * index + 2 for index, pin in enumerate(_right_side(device, mode))
    }


def _right_side(device: Device, mode: Mode) -> tuple[int, ...]:
    """The pins of the second column of each four, from the top of the diagram."""
    outputs, extra = device.outputs, (device.pins - 1,) if device.pins == 24 else ()
    last = (14,) if device.pins == 24 else ()
    if mode is Mode.REGISTERED:
        return (*extra, *outputs, *last)
    middle = outputs[:3] + outputs[5:] if mode is Mode.SIMPLE else outputs[1:-1]
    return (device.clock, *extra, *middle, *last, device.enable)


@cache
def cells(device: Device, mode: Mode, registered: frozenset[int] = frozenset()) -> tuple[Cell, ...]:
    """The macrocells in a mode, from the top of the diagram; ``registered``: the pins that show a register."""
    if device is V22:
        return tuple(_free_cell(device, index) for index in range(10))
    return tuple(_moded_cell(device, mode, index, pin in registered) for index, pin in enumerate(device.outputs))


def _free_cell(device: Device, index: int) -> Cell:
    first = 1 + sum(_TERMS[:index]) + index
    rows = range(first + 1, first + 1 + _TERMS[index])
    fuse = device.array + 2 * index
    return Cell(device.outputs[index], rows, first, 0, fuse, fuse + 1)


def _moded_cell(device: Device, mode: Mode, index: int, registered: bool) -> Cell:
    first, pin = 8 * index, device.outputs[index]
    polarity, kind = device.array + index, device.array + 72 + index
    if mode is Mode.SIMPLE:
        return Cell(pin, range(first, first + 8), -1, 0, polarity, kind)
    if registered:
        return Cell(pin, range(first, first + 8), -1, device.enable, polarity, kind)
    return Cell(pin, range(first + 1, first + 8), first, 0, polarity, kind)
