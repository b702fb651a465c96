"""A 16 x 16 multiplier of packaged parts: rows of 7408 gates, and 74283 adders that sum them up one by one."""

from __future__ import annotations

from building import Builder

WIDTH = 16


def multiplier() -> tuple[Builder, list[str], list[str], list[str]]:
    """The builder, and the nets of both factors and the product, lowest bit first."""
    builder = Builder()
    a, b = builder.bus("a", WIDTH), builder.bus("b", WIDTH)
    gates = _Gates(builder)
    product: list[str] = []
    above = [gates.both(net, b[0]) for net in a]  # the sum so far without the bits that are final, carry at the top
    for row in range(1, WIDTH):
        product.append(above[0])
        above = _added(builder, row, [*above[1:], *["low"] * (row == 1)], [gates.both(net, b[row]) for net in a])
    gates.finish()
    return builder, a, b, product + above


def _added(builder: Builder, row: int, x: list[str], y: list[str]) -> list[str]:
    """The sum of two numbers of 16 bits by four adders in cascade, its carry as bit 16."""
    total, carry = [], "low"
    for part in range(WIDTH // 4):
        low, end = 4 * part, 4 * part + 4
        sums, out = [f"s{row}_{i}" for i in range(low, end)], f"c{row}_{part}"
        builder.add("74LS283", A=x[low:end], B=y[low:end], C0=carry, S=sums, C4=out)
        total += sums
        carry = out
    return [*total, carry]


class _Gates:
    """AND gates, four a package."""

    def __init__(self, builder: Builder) -> None:
        self.builder = builder
        self.waiting: dict[str, str] = {}
        self.count = 0

    def both(self, x: str, y: str) -> str:
        number = self.count % 4 + 1
        out = f"and{self.count}"
        self.count += 1
        self.waiting |= {f"A{number}": x, f"B{number}": y, f"Y{number}": out}
        if number == 4:
            self.finish()
        return out

    def finish(self) -> None:
        if self.waiting:
            self.builder.add("7408", **self.waiting)
            self.waiting = {}
