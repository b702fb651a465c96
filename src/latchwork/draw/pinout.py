"""The pinout of a package in the data sheet's top view: notch above, pin 1 at the left of it.

Drawn for the terminal with plain characters, and as SVG. An arrow shows which way a signal runs; a bar over a name says
that it acts when low.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from latchwork.parts import Direction, Pin

LEFT = {Direction.INPUT: "──▶", Direction.OUTPUT: "◀──", Direction.BOTH: "◀─▶", Direction.SUPPLY: "──+",
        Direction.GROUND: "──0", Direction.PASSIVE: "───", Direction.UNUSED: "   "}  # fmt: skip
RIGHT = {Direction.INPUT: "◀──", Direction.OUTPUT: "──▶", Direction.BOTH: "◀─▶", Direction.SUPPLY: "+──",
         Direction.GROUND: "0──", Direction.PASSIVE: "───", Direction.UNUSED: "   "}  # fmt: skip


@dataclass(frozen=True)
class Sides:
    """Pins from top to bottom, None where the package has no leg."""

    left: tuple[Pin | None, ...]
    right: tuple[Pin | None, ...]


def sides(pins: Sequence[Pin]) -> Sides:
    """Numbers run down the left side and up the right one."""
    placed = {pin.number: pin for pin in pins}
    last = max(placed) + max(placed) % 2
    half = last // 2
    left = tuple(placed.get(number) for number in range(1, half + 1))
    return Sides(left, tuple(placed.get(number) for number in range(last, half, -1)))


def as_text(name: str, pins: Sequence[Pin]) -> list[str]:
    """Lines for a terminal."""
    both = sides(pins)
    margin = max((len(pin.sheet) for pin in both.left if pin), default=0)
    inner = max(len(name) + 8, 14)
    blank = " " * (margin + 5)
    lines = [f"{blank}┌{'─' * ((inner - 3) // 2)}╮ ╭{'─' * (inner - 3 - (inner - 3) // 2)}┐"]
    middle = (len(both.left) - 1) // 2
    for row, (left, right) in enumerate(zip(both.left, both.right, strict=True)):
        label = name if row == middle else ""
        lines.append(_text_row(left, right, margin, label))
    lines = [_framed(line, inner) for line in lines]
    return [*lines, f"{blank}└{'─' * inner}┘"]


def _text_row(left: Pin | None, right: Pin | None, margin: int, label: str) -> str:
    start = f"{left.sheet.rjust(margin)} {LEFT[left.direction]} " if left else " " * (margin + 5)
    end = f" {RIGHT[right.direction]} {right.sheet}" if right else ""
    numbers = (str(left.number) if left else ""), (str(right.number) if right else "")
    return f"{start}│ {numbers[0].ljust(2)}\0{label}\0{numbers[1].rjust(2)} │{end}"


def _framed(line: str, inner: int) -> str:
    """The label between the numbers, as wide as the body."""
    if "\0" not in line:
        return line
    before, label, after = line.split("\0")
    return f"{before}{label.center(inner - 6)}{after}".rstrip()


# SVG

PITCH, TOP, BODY, LEG, MARGIN = 36, 64, 200, 34, 150
STYLE = (
    "text{font-family:system-ui,sans-serif;font-size:18px;fill:#1a1a1a}"
    ".n{font-size:15px;fill:#444}.t{font-size:22px;font-weight:700}.w{font-size:15px}"
    ".body{fill:#f4f1ea;stroke:#1a1a1a;stroke-width:2.5}.leg{stroke:#1a1a1a;stroke-width:2}"
    ".over{stroke:#1a1a1a;stroke-width:1.5}.way{fill:#1a1a1a}.cut{fill:#fff;stroke:#1a1a1a;stroke-width:2}"
)


def as_svg(name: str, title: str, pins: Sequence[Pin]) -> str:
    """A drawing that any browser shows; it can be read on a tablet and printed."""
    both = sides(pins)
    height = TOP + PITCH * len(both.left) + 30
    width = 2 * (MARGIN + LEG) + BODY
    x = MARGIN + LEG
    body = PITCH * len(both.left) + 8
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img">',
        f"<title>{escape(name)}, {escape(title)}: pins from above</title>",
        f"<style>{STYLE}</style>",
        f'<rect width="{width}" height="{height}" fill="#fff"/>',
        f'<text class="w" x="{width / 2}" y="24" text-anchor="middle">{escape(title)}</text>',
        f'<rect class="body" x="{x}" y="{TOP - 16}" width="{BODY}" height="{body}" rx="6"/>',
        f'<path class="cut" d="M{width / 2 - 16} {TOP - 16}a16 16 0 0 0 32 0"/>',
        f'<text class="t" x="{width / 2}" y="{TOP + body / 2 - 8}" text-anchor="middle">{escape(name)}</text>',
        *(line for row, pin in enumerate(both.left) if pin for line in _leg(pin, row, x, -1)),
        *(line for row, pin in enumerate(both.right) if pin for line in _leg(pin, row, x + BODY, 1)),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _leg(pin: Pin, row: int, x: int, side: int) -> Iterator[str]:
    """A leg at height ``row`` of the side that looks left (-1) or right (1)."""
    y = TOP + PITCH * row + 6
    inward, outward = ("start", "end") if side < 0 else ("end", "start")
    yield f'<line class="leg" x1="{x}" y1="{y}" x2="{x + side * LEG}" y2="{y}"/>'
    yield f'<text class="n" x="{x - side * 10}" y="{y + 5}" text-anchor="{inward}">{pin.number}</text>'
    if pin.number == 1:
        yield f'<circle class="way" cx="{x + 40}" cy="{y}" r="5"/>'
    yield from _ways(pin, x, y, side)
    bare = pin.sheet.removeprefix("/")
    over = ' text-decoration="overline"' if pin.sheet.startswith("/") else ""
    place = x + side * (LEG + 10)
    yield f'<text x="{place}" y="{y + 6}" text-anchor="{outward}"{over}>{escape(bare)}</text>'


def _ways(pin: Pin, x: int, y: int, side: int) -> Iterator[str]:
    """Arrow heads: towards the body for inputs, away from it for outputs."""
    if pin.direction in (Direction.INPUT, Direction.BOTH):
        yield f'<path class="way" d="M{x + side * 2} {y}l{side * 13} -6v12z"/>'
    if pin.direction in (Direction.OUTPUT, Direction.BOTH):
        yield f'<path class="way" d="M{x + side * LEG} {y}l{-side * 13} -6v12z"/>'
