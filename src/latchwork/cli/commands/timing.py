"""``latchwork timing [MACHINE]``"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import click

from latchwork.cli.options import json_option, machine_argument, model_of, program_option, unusable
from latchwork.cli.show import counted, show, table, working

if TYPE_CHECKING:
    from latchwork.reports.timing import Fastest, Limit, Origins, Overlap, TimingReport, Trial, WayPart

MOST_GROUPS = 8
MOST_ROWS = 2
MOST_HOLDS = 4
MOST_OVERLAPS = 4
MOST_SWAPS = 10
MOST_LETTERS = 60
CORNERS = ("minimum", "typical", "maximum")
PERCENT = click.IntRange(5, 95)
PICOFARADS = click.FloatRange(0, 1000)


@click.command()
@machine_argument
@click.option("--corner", type=click.Choice(CORNERS), default="maximum", help="Column of the data sheets.  [maximum]")
@click.option("--high", type=PERCENT, default=50, metavar="PERCENT", help="How long the clock is high.  [50]")
@click.option("--contact", type=PICOFARADS, default=5.0, metavar="PF", help="What a contact of a board weighs.  [5]")
@click.option("--wire", type=PICOFARADS, default=3.0, metavar="PF", help="What the wire to a pin weighs.  [3]")
@click.option("--steps", is_flag=True, help="Show every microstep.")
@click.option("--improve", is_flag=True, help="Look for single parts that would raise the clock.")
@program_option
@click.option("--at", type=click.FloatRange(0.000001, 1000), metavar="MHZ", help="Try the program at this clock only.")
@click.option("--clocks", type=click.IntRange(1, 1_000_000), default=2000, metavar="N", help="How long.  [2000]")
@json_option
def command(machine: str, *, program: str | None, at: float | None, clocks: int, as_json: bool, **asked: Any) -> int:
    """Find the fastest safe clock, what sets it, and how much time each microstep has left."""
    from latchwork.analysis.arrival.loads import Boards
    from latchwork.analysis.arrival.times import Corner
    from latchwork.tools.timing.analysing import Asked
    from latchwork.tools.timing.reporting import timing

    if at and not program:
        raise unusable("--at tries a program at a clock: name it with --program")
    boards = Boards(contact=asked["contact"], wire=asked["wire"])
    question = Asked(Corner(asked["corner"]), asked["high"] / 100, boards)
    model = model_of(machine, program)
    with working("timing"):
        report = timing(model, question, program=program or "", clocks=clocks, at=at or 0.0, improve=asked["improve"])
    text = "\n".join(_lines(report, asked))
    return show(report, as_json=as_json, command="timing", ok=well(report), lines=lambda out: out.print(text))


def well(report: TimingReport) -> bool:
    """Whether the machine's own clock is safe."""
    fastest = report.by_step or report.plain
    tried = report.trial is None or report.trial.well
    return tried and (not report.stated or not fastest.megahertz or report.stated <= fastest.megahertz)


def _lines(report: TimingReport, asked: dict[str, Any]) -> Iterator[str]:
    fastest = report.by_step or report.plain
    yield f"timing of {report.machine}: {report.corner} figures, clock high for {report.high:.0%} of the period"
    yield ""
    yield _verdict(report, fastest)
    if fastest.limit is not None:
        yield from _limit(fastest.limit, fastest.step)
    yield ""
    yield from _clocks(report)
    if report.groups:
        yield from _groups(report)
    if asked["steps"]:
        yield from _steps(report)
    if asked["improve"]:
        yield from _swaps(report)
    yield from _holds(report)
    yield from _pulses(report)
    yield from _overlaps(report)
    if report.trial is not None:
        yield from _trial(report.trial)
    yield from _remarks(report)


def _verdict(report: TimingReport, fastest: Fastest) -> str:
    if not fastest.megahertz:
        return "nothing limits the clock: no way leads from one clocked pin to another"
    text = f"fastest safe clock: {fastest.megahertz:g} MHz (a period of {fastest.period:g} ns)"
    if report.stated:
        verb = "keeps within it" if well(report) else "is TOO FAST"
        text += f"; the oscillator of {report.stated:g} MHz {verb}"
    return text


# ---- a limit


def _limit(limit: Limit, step: str) -> Iterator[str]:
    where = f"{limit.part} {limit.chip} {limit.pin}"
    yield f"set by {_what(limit)} at {where}" + (f", in {step}" if step else "")
    if limit.way:
        yield ""
        yield f"the way, from the {limit.begins} of the clock:"
        yield from _way(limit.way)
        yield from ("  " + line for line in _sum(limit))


def _what(limit: Limit) -> str:
    return {
        "setup": f"the setup time before the {limit.reference}",
        "recovery": f"the recovery time before the {limit.reference}",
        "write address": f"the address that must stand before writing begins at the {limit.reference}",
        "write data": f"the data that must stand before writing ends at the {limit.reference}",
        "gate": f"what steers the clock, before the {limit.reference}",
        "pulse width": f"the least pulse, {limit.reference}",
        "write width": f"the least write pulse, {limit.reference}",
        "maximum clock": "the maximum clock frequency",
    }[limit.kind]


def _way(way: tuple[WayPart, ...]) -> Iterator[str]:
    heads = ("sum", "ns", "net adds", "chip", "from pin", "to pin", "net", "figure")
    rows = [
        (
            f"{part.sum:.1f}",
            f"{part.adds:.1f}",
            f"{part.load:.1f}" if part.load else "",
            f"{part.part} {part.chip}",
            f"{part.start} ({part.start_pin})",
            f"{part.end} ({part.end_pin}) {part.edge}s",
            part.net,
            f"{part.origin}: {_short(part.source)}",
        )
        for part in way
    ]
    yield from ("  " + line for line in table(heads, rows, right=(0, 1, 2)))


def _short(source: str) -> str:
    return source if len(source) <= MOST_LETTERS else source[: MOST_LETTERS - 3].rstrip() + "..."


def _sum(limit: Limit) -> Iterator[str]:
    total = limit.arrival + limit.needed - limit.clock
    clock = f" - {limit.clock:g} (the clock's way to {limit.chip})" if limit.clock else ""
    share = "the period" if limit.share == 1 else f"{limit.share:.0%} of the period"
    if limit.earlier:
        share = f"{counted(limit.earlier, 'period')} and {share}, since its register held meanwhile"
    yield f"{limit.arrival:g} + {limit.needed:g} ({limit.kind}; {limit.origin}: {_short(limit.source)}){clock}"
    yield f"= {total:.1f} ns, which must fit into {share}: {limit.period:g} ns"


# ---- clocks and steps


def _clocks(report: TimingReport) -> Iterator[str]:
    yield "MHz by the figures of the sheets:"
    heads = ("figures", "every way", *(["by microstep"] if report.by_step else []))
    rows = [
        (item.corner, f"{item.plain:g}", *([f"{item.by_step:g}"] if report.by_step else [])) for item in report.corners
    ]
    yield from ("  " + line for line in table(heads, rows, right=(1, 2)))


def _groups(report: TimingReport) -> Iterator[str]:
    yield ""
    yield "which microsteps hold the clock back:"
    heads = ("MHz", "ns", "rows", "waits for", "for example")
    rows = [
        (
            f"{group.megahertz:g}" if group.period else "any",
            f"{group.period:g}",
            len(group.rows),
            "" if group.limit is None else f"{group.limit.chip} {group.limit.pin} ({group.limit.kind})",
            "; ".join(group.rows[:MOST_ROWS]),
        )
        for group in report.groups[:MOST_GROUPS]
    ]
    yield from ("  " + line for line in table(heads, rows, right=(0, 1, 2)))
    left = len(report.groups) - MOST_GROUPS
    if left > 0:
        yield f"  and {counted(left, 'easier group')}; --steps shows every row"


def _steps(report: TimingReport) -> Iterator[str]:
    yield ""
    yield f"slack of each microstep at {report.asked:g} MHz:"
    heads = ("slack ns", "needs ns", "microstep", "waits for")
    rows = [
        (
            f"{step.slack:.1f}",
            f"{step.period:.1f}",
            f"`{step.block}` step {step.step}" + "".join(f", {name} {value}" for name, value in step.conditions),
            f"{step.chip} {step.pin} ({step.kind})" if step.kind else "",
        )
        for step in report.steps
    ]
    yield from ("  " + line for line in table(heads, rows, right=(0, 1)))


# ---- holds, pulses, remarks


def _holds(report: TimingReport) -> Iterator[str]:
    if not report.holds:
        return
    pins: dict[tuple[str, ...], list[str]] = {}
    for hold in report.holds:
        times = tuple(f"{value:.1f}" for value in (hold.minimum, hold.typical, hold.maximum))
        where = f"after the {hold.reference}" + _why(hold.kind, hold.origin)
        pins.setdefault((*times, f"{hold.part} {hold.chip}", where), []).append(hold.pin)
    yield ""
    yield "tightest holds, ns to spare with minimum, typical and maximum figures:"
    rows = [(*key[:3], f"{key[3]} {', '.join(found)} {key[4]}") for key, found in list(pins.items())[:MOST_HOLDS]]
    yield from ("  " + line for line in table(("min", "typ", "max", "pins"), rows, right=(0, 1, 2)))
    if any(hold.minimum < 0 <= min(hold.typical, hold.maximum) for hold in report.holds):
        yield "  too close to call: minimum figures are rare in sheets, most are taken as a fifth of the typical ones"


def _why(kind: str, origin: str) -> str:
    if kind == "gate":
        return " (steers the clock)"
    return " (no figure: hold assumed)" if origin == "assumed" else ""


def _pulses(report: TimingReport) -> Iterator[str]:
    if report.widths:
        yield ""
        yield "pulses and clock pins ask for periods of:"
        rows = [(f"{item.period:.1f}", f"{item.part} {item.chip}", _what(item)) for item in report.widths]
        yield from ("  " + line for line in table(("ns", "chip", "for"), rows, right=(0,)))


def _swaps(report: TimingReport) -> Iterator[str]:
    yield ""
    if not report.swaps:
        yield "what would help: no single part of the catalogue raises the clock"
        return
    yield "what would help, one chip each:"
    rows = [
        (f"{swap.megahertz:g}", f"{swap.gain:+.1%}", f"{swap.part} {swap.chip}", swap.other, swap.note)
        for swap in report.swaps[:MOST_SWAPS]
    ]
    yield from ("  " + line for line in table(("MHz", "gain", "chip", "instead", ""), rows, right=(0, 1)))


def _overlaps(report: TimingReport) -> Iterator[str]:
    if report.overlaps:
        yield ""
        yield "bus turn-around: how long two drivers may be on together:"
        heads = ("ns", "bus", "lets go late", "comes early", "when")
        rows = [
            (f"{item.nanoseconds:.1f}", item.bus, item.outgoing, item.incoming, _when(item))
            for item in report.overlaps[:MOST_OVERLAPS]
        ]
        yield from ("  " + line for line in table(heads, rows, right=(0,)))


def _when(item: Overlap) -> str:
    return f"{item.after} after {item.before}" if item.before else item.after


def _trial(trial: Trial) -> Iterator[str]:
    yield ""
    went = "ran as it should for" if trial.well else "WENT WRONG after"
    yield f"with delays, {trial.program} at {trial.megahertz:g} MHz {went} {counted(trial.clocks, 'clock')}"
    if trial.fails:
        yield f"it begins to fail at {trial.fails:g} MHz: {trial.trouble}"
    elif trial.trouble:
        yield f"  {trial.trouble}"
    elif trial.well and not trial.only:
        yield "  no clock was found at which it fails"


def _remarks(report: TimingReport) -> Iterator[str]:
    yield ""
    yield f"times of all arcs: {_origins(report.origins)}; on the way that sets the clock: {_origins(report.limiting)}"
    if report.unclocked:
        yield f"not clocked by the main clock: {', '.join(report.unclocked)}"
    if report.cut:
        yield f"ways in a circle were cut at: {', '.join(report.cut)}"


def _origins(origins: Origins) -> str:
    named = {
        "read": origins.read,
        "computed": origins.computed,
        "estimated": origins.estimate,
        "from memory": origins.memory,
        "assumed": origins.assumed,
    }
    return ", ".join(f"{number} {name}" for name, number in named.items() if number) or "none"
