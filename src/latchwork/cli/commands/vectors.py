"""``latchwork vectors NAME``"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from latchwork.cli.commands.chip import own_option, own_parts
from latchwork.cli.options import force_option, json_option
from latchwork.cli.show import show, table, working

if TYPE_CHECKING:
    from latchwork.reports.vectors import VectorsReport

MOST = 12


@click.command()
@click.argument("name")
@own_option
@click.option("--seed", default=0, metavar="NUMBER", help="Search from another start; the same seed, the same test.")
@click.option("--csv", "csv_file", metavar="FILE", help="Write the test as comma-separated values.")
@click.option("--header", metavar="FILE", help="Write the test as a C header of bytes.")
@force_option
@json_option
def command(
    name: str, machine: str | None, seed: int, *, csv_file: str | None, header: str | None, force: bool, as_json: bool
) -> int:
    """Make a short test for a chip in hand: it finds every pin and every inner signal that is stuck high or low, as far
    as that can be seen at the pins.

    0, 1: set. C: set low, high, low (K: high, low, high), then look. L, H: to be found there. Z: let go, it follows a
    resistor to either rail. X: not looked at.
    """
    from latchwork.cli.write import write
    from latchwork.tools.catalogue.one_part import named_part
    from latchwork.tools.vectors.files import as_csv, as_header
    from latchwork.tools.vectors.vectors import vectors

    _, part = named_part(name, own_parts(machine))
    with working(f"looking for a test of {part.name}"):
        report = vectors(part, seed)
    for file, text in ((csv_file, as_csv), (header, as_header)):
        if file:
            write(Path(file).parent, {Path(file).name: text(report).encode()}, force)
    shown = "\n".join(_lines(report))
    return show(report, as_json=as_json, command="vectors", ok=not report.missed, lines=lambda out: out.print(shown))


def _lines(report: VectorsReport) -> Iterator[str]:
    from latchwork.tools.vectors.files import USED

    yield f"a test for {report.part}, {report.title}"
    pull_ups = [f"{pin.number} ({pin.name})" for pin in report.pins if pin.role == "pull-up"]
    if pull_ups:
        yield f"give a resistor to the supply to pins {', '.join(pull_ups)}"
    careful = [f"{pin.number} ({pin.name})" for pin in report.pins if pin.careful]
    if careful:
        yield f"never move together with another: {', '.join(careful)}"
    yield ""
    used = [index for index, pin in enumerate(report.pins) if pin.role in USED]
    repeated = any(vector.times > 1 for vector in report.vectors)
    heads = ("", *(f"{report.pins[index].number} {report.pins[index].name}" for index in used))
    rows = [
        (
            number,
            *(vector.levels[index] for index in used),
            *((f"{vector.times} times",) if vector.times > 1 else ("",)),
        )
        for number, vector in enumerate(report.vectors, 1)
    ]
    yield from table((*heads, ""), rows) if repeated else table(heads, [row[:-1] for row in rows])
    yield ""
    yield from _summary(report)


def _summary(report: VectorsReport) -> Iterator[str]:
    yield (
        f"{len(report.vectors)} vectors; {report.faults} faults, {report.pin_faults} of them at pins; {report.found} "
        f"found, each confirmed by a run of the faulty part; coverage {report.coverage:g} %"
    )
    for heading, sentences in (
        ("no vector can show", report.hidden),
        ("not found", report.missed),
    ):
        if sentences:
            yield f"{heading}: {len(sentences)}"
            yield from (f"  {sentence}" for sentence in sentences[:MOST])
            if len(sentences) > MOST:
                yield f"  and {len(sentences) - MOST} more (--json lists them)"
