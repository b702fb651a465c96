"""``latchwork spare [MACHINE]``"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import json_option, machine_argument, model_of
from latchwork.cli.show import show, table

if TYPE_CHECKING:
    from latchwork.reports.spare import SpareOpcodes, SparePins, SpareReport, SpareSteps

MOST_NAMES = 4
MOST_RANGES = 12


@click.command()
@machine_argument
@json_option
def command(machine: str, as_json: bool) -> int:
    """Show what is free: gates, control lines, decoder outputs, bits of the control word, opcodes, steps."""
    from latchwork.tools.spare.finding import spare

    report = spare(model_of(machine))
    text = "\n".join(_lines(report))
    return show(report, as_json=as_json, command="spare", ok=True, lines=lambda out: out.print(text))


def _lines(report: SpareReport) -> Iterator[str]:
    yield f"free in {report.machine}"
    yield from _chips("gates and other units", "units", report.gates)
    yield from _chips("outputs of decoders", "outputs", report.decoders)
    if report.rows is None:
        return
    yield from _chips("bits of the control word", "data pins", report.word_bits)
    yield ""
    yield f"control lines that no step makes active: {', '.join(report.lines) or 'none'}"
    if report.opcodes:
        yield _opcodes(report.opcodes)
    if report.steps:
        yield _steps(report.steps)
    yield f"rows of the control store: {report.rows.free} of {report.rows.all}"


def _chips(title: str, head: str, found: Sequence[SparePins]) -> Iterator[str]:
    yield ""
    yield f"{title}:{'' if found else ' none'}"
    if found:
        rows = [(item.reference, item.part, item.board, item.label, " ".join(item.names)) for item in found]
        yield from ("  " + line for line in table(("chip", "part", "board", "label", head), rows))


def _opcodes(opcodes: SpareOpcodes) -> str:
    ranges = [_range(first, last, opcodes.all) for first, last in opcodes.ranges[:MOST_RANGES]]
    more = len(opcodes.ranges) - MOST_RANGES
    shown = ", ".join([*ranges, *([f"and {more} more"] if more > 0 else [])])
    return f"opcodes: {opcodes.free} of {opcodes.all}" + (f" ({shown})" if shown else "")


def _range(first: int, last: int, everything: int) -> str:
    digits = (everything.bit_length() + 2) // 4
    return f"0x{first:0{digits}x}" + (f" to 0x{last:0{digits}x}" if last != first else "")


def _steps(steps: SpareSteps) -> str:
    names = [f"`{name}`" for name in steps.longest[:MOST_NAMES]]
    more = len(steps.longest) - MOST_NAMES
    blocks = ", ".join([*names, *([f"{more} more"] if more > 0 else [])])
    return f"steps: {steps.room} fit, the longest take {steps.used} ({blocks}); {steps.free} slots are free in all"
