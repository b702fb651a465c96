"""``latchwork supply [MACHINE]``"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import json_option, machine_argument, model_of, program_option
from latchwork.cli.show import show, table, working

if TYPE_CHECKING:
    from latchwork.reports.supply import SupplyReport

GAUGES = ("20", "22", "24", "26", "28")
MOST_CHIPS = 6


@click.command()
@machine_argument
@program_option
@click.option("--at", type=click.FloatRange(0.000001, 1000), default=1.0, metavar="MHZ", help="Clock.  [1]")
@click.option("--clocks", type=click.IntRange(1, 100_000), default=500, metavar="N", help="How long it runs.  [500]")
@click.option("--gauge", type=click.Choice(GAUGES), default="22", help="AWG of wires.  [22]")
@click.option("--feed", type=click.FloatRange(0.1, 200), default=8.0, metavar="INCHES", help="Length of feeds.  [8]")
@json_option
def command(machine: str, *, program: str | None, as_json: bool, **asked: float | str | int) -> int:
    """Find what the machine draws, and the voltage that arrives at each chip."""
    from latchwork.tools.supply.reporting import Asked, supply

    question = Asked(round(1e6 / float(asked["at"])), int(asked["clocks"]), float(asked["feed"]), int(asked["gauge"]))
    model = model_of(machine, program)
    with working("running the machine"):
        report = supply(model, question, program=program or "")
    text = "\n".join(_lines(report))
    ok = not report.below and not report.heavy
    return show(report, as_json=as_json, command="supply", ok=ok, lines=lambda out: out.print(text))


def _lines(report: SupplyReport) -> Iterator[str]:
    ran = f"{report.activity} at {report.megahertz:g} MHz" if report.megahertz else report.activity
    yield f"supply of {report.machine}: {report.total:.0f} mA at most at {report.supply:g} V, while it runs {ran}"
    yield f"a supply of {report.advised:g} A has half as much again in reserve"
    yield ""
    heads = ("board", "chips", "rest mA", "switching", "lamps", "pulls", "feed mA", "lowest V", "at", "fed twice")
    rows = [
        (
            *(board.board, board.chips, f"{board.rest:.1f}", f"{board.switching:.2f}", f"{board.lamps:.1f}"),
            *(f"{board.pulls:.2f}", f"{board.feed:.1f}", f"{board.lowest:.3f}", board.worst),
            f"{board.with_second_feed:.3f}",
        )
        for board in report.boards
    ]
    yield from table(heads, rows, right=(1, 2, 3, 4, 5, 6, 7, 9))
    yield from _chips(report)
    gain = max(report.boards, key=lambda board: board.with_second_feed - board.lowest, default=None)
    if gain is not None and gain.with_second_feed - gain.lowest >= 0.001:
        more = (gain.with_second_feed - gain.lowest) * 1000
        yield f"a second feed gains most on {gain.board}: {more:.0f} mV at its worst chip"
    yield from (f"TOO LOW: {text}" for text in report.below)
    yield from (f"TOO MUCH for one feed: {text}" for text in report.heavy)
    yield ""
    yield from report.cautions


def _chips(report: SupplyReport) -> Iterator[str]:
    heaviest = sorted(report.chips, key=lambda chip: -(chip.rest + chip.switching))[:MOST_CHIPS]
    yield ""
    yield "what draws most:"
    rows = [
        (f"{chip.rest:.2f}", f"{chip.switching:.2f}", f"{chip.part} {chip.chip}", f"{chip.volts:.3f}", chip.origin)
        for chip in heaviest
    ]
    yield from ("  " + line for line in table(("rest mA", "switching", "chip", "volts", "rest is"), rows, right=(0, 1)))
    assumed = sum(chip.origin == "assumed" for chip in report.chips)
    yield f"currents at rest: {assumed} of {len(report.chips)} are assumed for the family, for want of a figure"
    yield ""
