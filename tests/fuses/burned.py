"""A programmed device worked out straight from its fuses, as the logic diagrams of the sheets draw it. Shares nothing
with the program: columns, rows and fuse numbers are written here once more, as plain lists."""

from __future__ import annotations

from random import Random

COLUMNS = {
    ("22V10", ""): [1, 23, 2, 22, 3, 21, 4, 20, 5, 19, 6, 18, 7, 17, 8, 16, 9, 15, 10, 14, 11, 13],
    ("16V8", "10"): [2, 1, 3, 19, 4, 18, 5, 17, 6, 14, 7, 13, 8, 12, 9, 11],
    ("16V8", "11"): [2, 1, 3, 18, 4, 17, 5, 16, 6, 15, 7, 14, 8, 13, 9, 11],
    ("16V8", "01"): [2, 19, 3, 18, 4, 17, 5, 16, 6, 15, 7, 14, 8, 13, 9, 12],
    ("20V8", "10"): [2, 1, 3, 23, 4, 22, 5, 21, 6, 20, 7, 17, 8, 16, 9, 15, 10, 14, 11, 13],
    ("20V8", "11"): [2, 1, 3, 23, 4, 21, 5, 20, 6, 19, 7, 18, 8, 17, 9, 16, 10, 14, 11, 13],
    ("20V8", "01"): [2, 23, 3, 22, 4, 21, 5, 20, 6, 19, 7, 18, 8, 17, 9, 16, 10, 15, 11, 14],
}
"""(device, SYN and AC0) -> the pin of each pair of columns."""

ENABLES = [44, 440, 924, 1496, 2156, 2904, 3652, 4312, 4884, 5368]
"""The first fuse of the enable row of each macrocell of a 22V10, from pin 23 down; its product terms follow."""

TERMS = [8, 10, 12, 14, 16, 16, 14, 12, 10, 8]
NUMBERS = {"16V8": (20, 2048, 2120, 2128, 2192), "20V8": (24, 2560, 2632, 2640, 2704)}
"""Pins, and the first fuse of XOR, of AC1, of the enables of product terms, and SYN."""


class Burned:
    """``levels`` of pins go in; ``settled`` gives all levels, with a pull-up at each macrocell; ``edge`` clocks."""

    def __init__(self, kind: str, fuses: str) -> None:
        self.kind, self.fuses = kind, fuses
        self.large = kind == "22V10"
        self.setting = "" if self.large else fuses[NUMBERS[kind][4] :][:2]
        self.pins = COLUMNS[kind, self.setting]
        self.outputs = list(range(23, 13, -1)) if self.large else list(range(19 if kind == "16V8" else 22, 0, -1))[:8]
        self.held = dict.fromkeys(self.outputs, 0)
        self.feedback = {pin for index, pin in enumerate(self.outputs) if self.is_register(index)}

    def is_register(self, index: int) -> bool:
        if self.large:
            return self.fuses[5808 + 2 * index + 1] == "0"
        return self.setting == "01" and self.fuses[NUMBERS[self.kind][2] + index] == "0"

    def registers(self) -> list[int]:
        return [pin for index, pin in enumerate(self.outputs) if self.is_register(index)]

    def driven(self) -> list[int]:
        """The macrocells that are no inputs."""
        first = 0 if self.large else NUMBERS[self.kind][2]
        return [
            pin for index, pin in enumerate(self.outputs) if self.setting != "10" or self.fuses[first + index] == "0"
        ]

    def product(self, start: int, levels: dict[int, int]) -> int:
        width = 2 * len(self.pins)
        if not self.large and self.fuses[NUMBERS[self.kind][3] + start // width] == "0":
            return 0
        for place, pin in enumerate(self.pins):
            shown = 1 - self.held[pin] if pin in self.feedback else levels[pin]
            if (self.fuses[start + 2 * place] == "0" and not shown) or (
                self.fuses[start + 2 * place + 1] == "0" and shown
            ):
                return 0
        return 1

    def rows(self, index: int) -> tuple[int, list[int]]:
        """Starts of the enable row (-1: none) and of the product terms."""
        if self.large:
            return ENABLES[index], [ENABLES[index] + 44 * n for n in range(1, TERMS[index] + 1)]
        width = 2 * len(self.pins)
        starts = [(8 * index + n) * width for n in range(8)]
        whole = self.setting == "10" or self.is_register(index)
        return (-1, starts) if whole else (starts[0], starts[1:])

    def summed(self, index: int, levels: dict[int, int]) -> int:
        return int(any(self.product(start, levels) for start in self.rows(index)[1]))

    def shown(self, index: int, levels: dict[int, int]) -> int:
        pin, enable = self.outputs[index], self.rows(index)[0]
        if self.large:
            value = self.held[pin] if self.is_register(index) else self.summed(index, levels)
            value ^= self.fuses[5808 + 2 * index] == "0"
        else:
            xor = int(self.fuses[NUMBERS[self.kind][1] + index])
            value = 1 - (self.held[pin] if self.is_register(index) else self.summed(index, levels) ^ xor)
            if self.setting == "10" and self.fuses[NUMBERS[self.kind][2] + index] == "1":
                return levels[pin]  # an input
            if self.is_register(index):
                return value if not levels[11 if self.kind == "16V8" else 13] else 1
        return value if enable < 0 or self.product(enable, levels) else 1

    def settled(self, levels: dict[int, int]) -> dict[int, int]:
        levels = dict.fromkeys(self.outputs, 1) | levels
        before: dict[int, int] = {}
        while before != levels:
            before = dict(levels)
            if self.large and self.product(0, levels):
                self.held = dict.fromkeys(self.held, 0)
            levels |= {pin: self.shown(index, levels) for index, pin in enumerate(self.outputs)}
        return levels

    def edge(self, levels: dict[int, int]) -> None:
        levels = self.settled(levels)
        taken = {}
        for index, pin in enumerate(self.outputs):
            if not self.is_register(index):
                continue
            data = self.summed(index, levels)
            if self.large:
                data |= self.product(5764, levels)
            else:
                data ^= int(self.fuses[NUMBERS[self.kind][1] + index])
            taken[pin] = 0 if self.large and self.product(0, levels) else data
        self.held |= taken


def random_fuses(kind: str, setting: str, random: Random) -> str:
    """Fuses without loops among the outputs: each reads inputs, registers, and outputs further down."""
    size = {"22V10": 5892, "16V8": 2194, "20V8": 2706}[kind]
    fuses = [str(random.getrandbits(1)) for _ in range(size)]
    if kind != "22V10":
        syn = NUMBERS[kind][4]
        fuses[syn : syn + 2] = setting
        fuses[syn - 64 : syn] = random.choices("1110", k=64)
        fuses[syn - 72 : syn - 64] = random.choices("001", k=8)
        if setting == "11":
            fuses[NUMBERS[kind][2] : NUMBERS[kind][2] + 8] = "1" * 8
    burned = Burned(kind, "".join(fuses))
    for index in range(len(burned.outputs)):
        enable, starts = burned.rows(index)
        for start in [*([enable] if enable >= 0 else []), *starts]:
            _row(burned, fuses, start, burned.outputs[: index + 1], random, connected=int(start == enable))
    if kind == "22V10":
        for start in (0, 5764):
            _row(burned, fuses, start, burned.outputs, random, registers=False)
    return "".join(fuses)


def _row(
    burned: Burned,
    fuses: list[str],
    start: int,
    barred: list[int],
    random: Random,
    *,
    connected: int = 0,
    registers: bool = True,
) -> None:
    """A row that some columns are connected to, or ``connected`` ones."""
    width = 2 * len(burned.pins)
    fuses[start : start + width] = "1" * width
    free = [
        place
        for place, pin in enumerate(burned.pins)
        if pin != 1 and (pin not in barred or (registers and pin in burned.registers()))
    ]
    for place in random.sample(free, connected or random.choice((2, 3, 4, 5))):
        fuses[start + 2 * place + random.getrandbits(1)] = "0"
