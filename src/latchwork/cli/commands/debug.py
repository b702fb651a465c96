"""``latchwork debug [MACHINE] PROGRAM``"""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from latchwork.cli.interrupts import interrupts
from latchwork.cli.options import json_option, machine_and_program, model_of, words_argument
from latchwork.cli.show import console, print_json, show_problems
from latchwork.problems import LatchworkError, Problem
from latchwork.problems.data import as_data

if TYPE_CHECKING:
    from latchwork.tools.debug.commands import Commands
    from latchwork.tools.run.running import Running


@click.command()
@words_argument("[MACHINE] [PROGRAM]")
@click.option("--input", "inputs", metavar="PORT=N", multiple=True, help="Set the switches of an input port.")
@click.option("--do", "orders", metavar="ORDER", multiple=True, help="Do this first, as if it were typed; may repeat.")
@click.option("--every", metavar="N", type=click.IntRange(1), help="Clocks between saved moments.")
@click.option("--horizon", metavar="N", type=click.IntRange(1), help="Clocks that one can go back.")
@click.option("--memory", default=256, metavar="N", type=click.IntRange(1), help="Megabytes that this may take.")
@click.option("--seed", default=0, metavar="N", help="Which power-up state the unknown bits have.")
@click.option("--engine", type=click.Choice(["compiled", "oracle"]), help="Compiled code, or the slow plain oracle.")
@click.option("--unknown", is_flag=True, help="Keep unknown bits unknown instead.")
@json_option
def command(
    *,
    words: tuple[str, ...],
    inputs: tuple[str, ...],
    orders: tuple[str, ...],
    every: int | None,
    horizon: int | None,
    memory: int,
    seed: int,
    engine: str | None,
    unknown: bool,
    as_json: bool,
) -> int:
    """Run PROGRAM step by step, stop it anywhere, look at any wire, and go back.

    At the prompt, `help` lists the words. Where the input is no terminal, each of its lines is an order, and is shown
    with its answer; exit 1 where one could not be followed.
    """
    from latchwork.tools.debug.commands import Commands
    from latchwork.tools.debug.session import MEGABYTE, Session
    from latchwork.tools.run.running import Running

    machine, program = machine_and_program(words)
    running = Running(model_of(machine), seed, unknown, engine=engine)
    for text in inputs:
        name, _, value = text.partition("=")
        running[name.strip()] = _value(text, value)
    if program:
        running.load(program)
    session = Session(running, every=every, horizon_clocks=horizon, horizon_bytes=memory * MEGABYTE)
    commands = Commands(session)
    if as_json:
        return _as_data(commands, orders)
    session.on_emit = _emitted
    return _talk(commands, orders, running)


def _value(text: str, value: str) -> int:
    try:
        return int(value, 0)
    except ValueError:
        hint = "write NAME=NUMBER, such as keys=5 or keys=0x1F"
        raise LatchworkError(Problem("R103", f'"{text}" sets nothing', help=hint)) from None


def _emitted(device: str, data: bytes) -> None:
    console().print(f"  {device}: {data.decode('utf-8', 'backslashreplace')!r}")


def _as_data(commands: Commands, orders: tuple[str, ...]) -> int:
    """All orders, then those of the input up to its end, with their answers as one JSON object."""
    emitted: list[dict[str, str]] = []
    found: list[dict[str, object]] = []
    commands.session.on_emit = lambda name, data: emitted.append({"device": name, "text": data.decode("latin-1")})
    for line in (*orders, *sys.stdin):
        order = line.strip()
        if not order or commands.left:
            continue
        answer, problems = [], []
        try:
            with interrupts(commands.session.machine):
                answer = commands.say(order)
        except LatchworkError as error:
            problems = [as_data(problem) for problem in error.problems]
        found.append({"order": order, "answer": answer, "problems": problems, "clock": commands.session.machine.clocks})
    well = not any(each["problems"] for each in found)
    print_json({"command": "debug", "ok": well, "orders": found, "emitted": emitted})
    return 0 if well else 1


def _talk(commands: Commands, orders: tuple[str, ...], running: Running) -> int:
    """All orders, then those of the person or the pipe. 1 where one could not be followed."""
    well = True
    by_hand = sys.stdin.isatty()
    for line in _lines(commands, orders, running, by_hand):
        if not line.strip() and not by_hand:
            continue
        well &= _followed(commands, line)
        if commands.left:
            break
    return 0 if well or by_hand else 1


def _lines(commands: Commands, orders: tuple[str, ...], running: Running, by_hand: bool) -> Iterator[str]:
    for order in orders:
        yield _echoed(running, order)
    if by_hand:
        with _history(commands):
            yield from _typed(running)
    else:
        for line in sys.stdin:
            yield _echoed(running, line.rstrip("\n")) if line.strip() else ""


def _prompt(running: Running) -> str:
    return f"{running.model.netlist.name} at clock {running.clocks}: "


def _echoed(running: Running, line: str) -> str:
    console().print(_prompt(running) + line.strip())
    return line


def _typed(running: Running) -> Iterator[str]:
    while True:
        try:
            yield input(_prompt(running))
        except EOFError:
            console().print()
            return
        except KeyboardInterrupt:
            console().print()


def _followed(commands: Commands, line: str) -> bool:
    try:
        with interrupts(commands.session.machine):
            answer = commands.say(line)
        for text in answer:
            console().print(text)
    except LatchworkError as error:
        sys.stdout.flush()
        if sys.stdin.isatty():
            show_problems(error.problems, as_json=False)
        else:
            for problem in error.problems:
                hint = f" ({problem.help})" if problem.help else ""
                console().print(f"{problem.code} {problem.message}{hint}")
        return False
    return True


@contextlib.contextmanager
def _history(commands: Commands) -> Iterator[None]:
    """Editing, history over sessions and completion, where the system has readline."""
    try:
        import readline
    except ImportError:
        yield
        return
    file = Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state") / "latchwork" / "debug-history"
    with contextlib.suppress(OSError):
        readline.read_history_file(file)
    readline.set_history_length(1000)
    readline.set_completer_delims(" ")
    readline.set_completer(lambda text, number: _nth(commands.completions(readline.get_line_buffer()), number))
    readline.parse_and_bind("tab: complete")
    try:
        yield
    finally:
        with contextlib.suppress(OSError):
            file.parent.mkdir(parents=True, exist_ok=True)
            readline.write_history_file(file)


def _nth(words: list[str], number: int) -> str | None:
    return words[number] if number < len(words) else None
