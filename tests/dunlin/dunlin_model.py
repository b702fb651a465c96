"""Dunlin a second time: plain integers and a table of opcodes, without a chip or an expression of the project.

It is what the chip-level machine is held against, instruction by instruction.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

CLOCKS = 3  # two of the fetch and one of the instruction; each of Dunlin's instructions has a single step of its own


@dataclass
class DunlinModel:
    """The registers and memories that a program sees. ``rom``: the program, ``keys``: what the switches say."""

    rom: bytes
    keys: int = 0
    acc: int = 0
    index: int = 0
    carry: int = 0
    zero: int = 0
    negative: int = 0
    pc: int = 0
    ram: list[int] = field(default_factory=lambda: [0] * 256)
    lamps: list[int] = field(default_factory=list)
    halted: bool = False
    instructions: int = 0

    def run(self, most: int) -> None:
        """Run until the machine halts, or so many instructions are done."""
        for _ in range(most):
            if self.halted:
                return
            self.step()

    def step(self) -> None:
        self.instructions += 1
        opcode = self._next()
        if opcode & 0x80:
            self._jump(opcode)
        elif opcode >= 0x40:
            self._compute(opcode)
        elif opcode >= 0x10:
            self._move(opcode)
        else:
            self._plain(opcode)

    def _next(self) -> int:
        byte = self.rom[self.pc]
        self.pc = (self.pc + 1) & 0xFFF
        return byte

    def _flags(self, value: int) -> int:
        value &= 0xFF
        self.zero, self.negative = int(value == 0), value >> 7
        return value

    def _register(self, which: int) -> int:
        return self.index if which else self.acc

    def _set_register(self, which: int, value: int) -> None:
        if which:
            self.index = self._flags(value)
        else:
            self.acc = self._flags(value)

    def _plain(self, opcode: int) -> None:
        which = opcode & 1
        match opcode:
            case 0x00:
                return
            case 0x02 | 0x03:
                self._set_register(which, 0)
            case 0x04 | 0x05:
                self._set_register(which, self._register(which) + 1)
            case 0x06 | 0x07:
                self._set_register(which, self._register(which) - 1)
            case 0x08:
                self._set_register(1, self.acc)
            case 0x09:
                self._set_register(0, self.index)
            case 0x0A:
                self._set_register(0, ~self.acc)
            case 0x0B | 0x0C:
                self.carry = int(opcode == 0x0B)
            case 0x0D:
                self._set_register(0, self.keys)
            case 0x0E | 0x0F:
                self.lamps.append(self._register(which))
            case _:
                self.halted = True

    def _move(self, opcode: int) -> None:
        which = opcode & 1
        if opcode <= 0x13:
            self._shift(opcode)
        elif opcode <= 0x16:
            self.lamps.append(self._source(opcode - 0x14))
        elif 0x18 <= opcode <= 0x1D:
            self._set_register(which, self._source((opcode - 0x18) >> 1))
        elif 0x20 <= opcode <= 0x23:
            cell = self._next() + (self.index if opcode & 2 else 0)
            self.ram[cell & 0xFF] = self._register(which)
        elif opcode in (0x30, 0x31):
            self._subtract(self.index, self._source(opcode - 0x30), 1)
        else:
            self.halted = True

    def _source(self, mode: int) -> int:
        byte = self._next()
        return byte if mode == 0 else self.ram[(byte + (self.index if mode == 2 else 0)) & 0xFF]

    def _shift(self, opcode: int) -> None:
        left, rotate = not opcode & 1, opcode & 2
        moved_in = self.carry if rotate else 0
        if left:
            value, self.carry = self.acc << 1 | moved_in, self.acc >> 7
        else:
            value, self.carry = self.acc >> 1 | moved_in << 7, self.acc & 1
        self._set_register(0, value)

    def _subtract(self, a: int, b: int, carry: int) -> int:
        difference = a - b - 1 + carry
        self.carry = int(difference >= 0)
        return self._flags(difference)

    def _add(self, a: int, b: int, carry: int) -> int:
        self.carry = (a + b + carry) >> 8
        return self._flags(a + b + carry)

    def _compute(self, opcode: int) -> None:
        if opcode > 0x57:
            self.halted = True
            return
        value, carry = self._source((opcode - 0x40) >> 3), self.carry
        if opcode & 7 == 7:
            self._subtract(self.acc, value, 1)
            return
        operations: tuple[Callable[[], int], ...] = (
            lambda: self._add(self.acc, value, 0),
            lambda: self._add(self.acc, value, carry),
            lambda: self._subtract(self.acc, value, 1),
            lambda: self._subtract(self.acc, value, carry),
            lambda: self._flags(self.acc & value),
            lambda: self._flags(self.acc | value),
            lambda: self._flags(self.acc ^ value),
        )
        self.acc = operations[opcode & 7]()

    def _jump(self, opcode: int) -> None:
        to = (opcode & 0xF) << 8 | self._next()
        conditions = (
            1, self.carry, 1 - self.carry, self.zero, 1 - self.zero, self.negative, 1 - self.negative, 0
        )  # fmt: skip
        if conditions[opcode >> 4 & 7]:
            self.pc = to
