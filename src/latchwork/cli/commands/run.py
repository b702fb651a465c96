"""``latchwork run [MACHINE] PROGRAM``"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from latchwork.cli.interrupts import interrupts
from latchwork.cli.options import force_option, json_option, machine_and_program, model_of, named, words_argument
from latchwork.cli.show import console, counted, show, working
from latchwork.problems import LatchworkError, Problem

if TYPE_CHECKING:
    from rich.console import Console

    from latchwork.reports.run import RunReport
    from latchwork.tools.run.profile import Profiler
    from latchwork.tools.run.running import Running
    from latchwork.traces import Recorder


CLOCKS = "Run at most so many clocks; a million if left out."


@click.command()
@words_argument("[MACHINE] [PROGRAM]")
@click.option("--clocks", default=1_000_000, metavar="N", type=click.IntRange(1), help=CLOCKS)
@click.option("--until", default="halt", metavar="WHAT", help="halt, never, a label, or NAME=NUMBER of any net or bus.")
@click.option("--watch", metavar="NET,...", help="Show these as well, and put only them into the trace.")
@click.option("--trace", metavar="FILE", type=named, help="Write every change to a VCD or, by its name, a CSV file.")
@click.option("--input", "inputs", metavar="PORT=N", multiple=True, help="Set the switches of an input port.")
@click.option("--images", metavar="FOLDER", type=named, help="Run with the image files that are there.")
@click.option("--terminal", metavar="DEVICE", help="Join this device of the machine to the terminal.")
@click.option("--profile", "profiled", is_flag=True, help="Count clocks by instruction and line, coverage, cells.")
@click.option("--seed", default=0, metavar="N", help="Another power-up state of the unknown bits than 0 gives.")
@click.option("--engine", type=click.Choice(["compiled", "oracle"]), help="Compiled code, or the slow plain oracle.")
@click.option("--unknown", is_flag=True, help="Keep unknown bits unknown instead.")
@force_option
@json_option
def command(
    *,
    words: tuple[str, ...],
    clocks: int,
    until: str,
    watch: str | None,
    trace: str | None,
    inputs: tuple[str, ...],
    images: str | None,
    terminal: str | None,
    profiled: bool,
    seed: int,
    unknown: bool,
    engine: str | None,
    force: bool,
    as_json: bool,
) -> int:
    """Assemble PROGRAM and run it on the chip-level machine, from the bytes that its ROM images have.

    Without PROGRAM the machine runs with what its ROMs hold.

    With --images nothing but the files' bytes is in the ROMs; PROGRAM then only gives its labels, with a warning where
    its bytes are not those of the files. Of files of one chip that differ, the one that was changed since it was
    written counts.

    Exit 1 where it does not reach what --until says.
    """
    from latchwork.cli.write import refuse_foreign
    from latchwork.tools.run.running import Running

    machine, program = machine_and_program(words)
    if trace:
        refuse_foreign(Path(trace), force)
    running = Running(model_of(machine), seed, unknown, engine=engine)
    for text in inputs:
        _set(running, text)
    if program:
        running.load(program)
    warnings = () if images is None else _burn(running, Path(images), as_json)
    watched = [name.strip() for name in (watch or "").split(",") if name.strip()]
    recorder = _recorder(running, watched) if trace else None
    profiler = _profiler(running) if profiled else None
    with interrupts(running), _shown(running, terminal, program or machine, as_json):
        report = running.run(until=until, clocks=clocks, watched=watched)
    if profiler:
        report = replace(report, profile=profiler.profile())
    report = replace(report, warnings=warnings)
    if trace and recorder:
        _write_trace(Path(trace), recorder, report.machine, force)
    good = report.stop in ("halt", "until") or (until == "never" and report.stop == "clocks")
    return show(report, as_json=as_json, command="run", ok=good, lines=lambda out: _lines(out, report))


def _shown(running: Running, terminal: str | None, what: str, as_json: bool) -> AbstractContextManager[None]:
    """What is on the screen while it runs."""
    if terminal is not None:
        from latchwork.cli.terminal import joined

        return joined(running, terminal, as_json)
    return _lamps(running) if sys.stdout.isatty() and not as_json else working(f"running {what}")


def _profiler(running: Running) -> Profiler:
    from latchwork.tools.run.profile import Profiler

    return Profiler(running)


def _burn(running: Running, folder: Path, as_json: bool) -> tuple[dict[str, object], ...]:
    """Put the files' bytes into the ROMs. A person is warned where they are not those of the program; gives the
    warnings as data."""
    from latchwork.problems.data import as_data
    from latchwork.problems.terminal import print_problems
    from latchwork.tools.images.burned import burned
    from latchwork.tools.run.another_program import differences

    contents = burned(running.model, folder)
    running.burn(contents)
    program = running.assembled
    warnings = list(differences(running.model, program, contents, folder)) if program else []
    if warnings and not as_json:
        print_problems(console(stderr=True), warnings)
    return tuple(as_data(warning) for warning in warnings)


def _set(running: Running, text: str) -> None:
    from latchwork.tools.run.stops import whole_number

    name, _, number = text.partition("=")
    value = whole_number(number.strip())
    if value is None:
        hint = "write NAME=NUMBER, such as keys=5 or keys=0x1F"
        raise LatchworkError(Problem("R103", f'"{text}" sets nothing', help=hint))
    running[name.strip()] = value


def _recorder(running: Running, watched: list[str]) -> Recorder:
    from latchwork.tools.run.names import nets_named, traced
    from latchwork.traces import Recorder

    model = running.model
    signals = {name: nets_named(model, name) for name in watched} if watched else traced(model)
    recorder = Recorder(running.simulation, signals)
    running.on_tick.append(recorder.sample)
    return recorder


def _write_trace(path: Path, recorder: Recorder, machine: str, force: bool) -> None:
    from latchwork.cli.write import write
    from latchwork.traces.table import to_csv
    from latchwork.traces.vcd import to_vcd

    trace = recorder.trace()
    content = to_csv(trace) if path.suffix.lower() == ".csv" else to_vcd(trace, machine)
    write(path.parent, {path.name: content}, force)


@contextmanager
def _lamps(running: Running) -> Iterator[None]:
    """The output ports on the terminal while the machine runs, some times a second."""
    from rich.live import Live

    out = console()
    with Live(get_renderable=lambda: _shown_ports(running), console=out, refresh_per_second=8, transient=True):
        yield


def _shown_ports(running: Running) -> str:
    widths = {port.name: len(port.nets) for port in running.model.statements.ports}
    lines = (f"{name}  {_lit(value, widths[name])}" for name, value in running.showing().items())
    return "\n".join([*lines, f"clock {running.clocks}"])


def _lit(value: int | None, width: int) -> str:
    """A row of lamps, highest bit first; in ASCII where the terminal has no better letters."""
    if value is None:
        return " ".join("?" * width)
    dark, lit = "·●" if (sys.stdout.encoding or "").lower().startswith("utf") else ".O"
    return " ".join(lit if value >> bit & 1 else dark for bit in reversed(range(width)))


def _lines(out: Console, report: RunReport) -> None:
    out.print(f"stopped: {report.reason}")
    instructions = "" if report.instructions is None else f", {counted(report.instructions, 'instruction')}"
    out.print(f"{counted(report.clocks, 'clock')}{instructions}, {report.time_ps / 1e9:g} ms of the machine's time")
    for title, numbers in (("registers", report.registers), ("watched", report.watched)):
        if numbers:
            out.print(f"{title}: " + "  ".join(f"{name} {_number(value)}" for name, value in numbers.items()))
    for name, values in report.outputs.items():
        out.print(f"{name}: {_values(values)}")
    for happening in report.happenings:
        often = f" ({happening.count} times)" if happening.count > 1 else ""
        out.print(f"{happening.kind} at clock {happening.clock}: {happening.sentence}{often}")

    if report.profile:
        from latchwork.cli.profile import profile_lines

        out.print("\n".join(profile_lines(report.profile)))


_MOST_VALUES = 64


def _values(values: tuple[int | None, ...]) -> str:
    """The last values of a port; --json has all."""
    before = len(values) - _MOST_VALUES
    start = f"({before} values before) " if before > 0 else ""
    return start + " ".join(_number(value) for value in values[-_MOST_VALUES:]) if values else "nothing was shown"


def _number(value: int | None) -> str:
    return "?" if value is None else str(value)
