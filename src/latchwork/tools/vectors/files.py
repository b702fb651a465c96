"""A test as a table of comma-separated values, and as a C header of bytes for a microcontroller."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator

from latchwork.reports.vectors import Vector, VectorsReport

USED = {"in", "out", "both", "pull-up"}


def as_csv(report: VectorsReport) -> str:
    """A line a vector, a column a pin that carries a signal, headed by number and name."""
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    used = [index for index, pin in enumerate(report.pins) if pin.role in USED]
    rows.writerow(["vector", "times", *(f"{report.pins[index].number} {report.pins[index].name}" for index in used)])
    for number, vector in enumerate(report.vectors, 1):
        rows.writerow([number, vector.times, *(vector.levels[index] for index in used)])
    return text.getvalue()


def as_header(report: VectorsReport) -> str:
    """Bytes, with what they mean in a comment above them. Bit 0 of the first byte of a set is pin 1."""
    size = (len(report.pins) + 7) // 8
    name = re.sub(r"\W+", "_", f"n{report.part}" if report.part[:1].isdigit() else report.part).upper()
    rows = [_bytes(vector, size) for vector in report.vectors]
    lines = [
        f"/* A test for {report.part}, {report.title}: {len(rows)} vectors show {report.found} of {report.faults}",
        "   stuck-at faults. Made by Latchwork.",
        "",
        f"   A vector has {3 + 4 * size} bytes:",
        "     0      pin to pulse, 0 for none",
        "     1, 2   how many pulses, low byte first",
        f"   then four sets of {size} bytes with a bit for each pin, pin 1 in bit 0 of the first byte:",
        "     set    pins to drive; let all others go",
        "     high   driven pins: the level to set; the pin to pulse rests at it and goes to the other and back;",
        "            pins looked at: the level to be found",
        "     look   pins to look at, after the pulses",
        "     free   pins looked at that must be let go: they follow a resistor to either rail",
        "",
        "   Let go first, then set levels. Pins with an open collector need a resistor to the supply:",
        f"   {', '.join(_pulled_up(report)) or 'none here'}. */",
        "",
        f"#define {name}_PINS {len(report.pins)}",
        f"#define {name}_VECTORS {len(rows)}",
        f"#define {name}_BYTES {3 + 4 * size}",
        "",
        f"static const unsigned char vectors_{name.lower()}[{name}_VECTORS][{name}_BYTES] = {{",
        *(f"    {{{', '.join(f'0x{byte:02x}' for byte in row)}}}," for row in rows),
        "};",
        "",
    ]
    return "\n".join(lines)


def _pulled_up(report: VectorsReport) -> Iterator[str]:
    return (f"{pin.number} ({pin.name})" for pin in report.pins if pin.role == "pull-up")


def _bytes(vector: Vector, size: int) -> bytes:
    pulsed = next((index + 1 for index, letter in enumerate(vector.levels) if letter in "CK"), 0)
    times = vector.times if pulsed else 0
    masks = [_mask(vector.levels, letters) for letters in ("01CK", "1KH", "LHZ", "Z")]
    return bytes([pulsed]) + times.to_bytes(2, "little") + b"".join(mask.to_bytes(size, "little") for mask in masks)


def _mask(levels: str, letters: str) -> int:
    return sum(1 << place for place, letter in enumerate(levels) if letter in letters)
