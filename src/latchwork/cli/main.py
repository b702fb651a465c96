"""The command line: ``latchwork VERB [MACHINE]``. Exit 0: all is well; 1: findings, or the answer is no; 2: unusable
input or call."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Sequence
from io import TextIOWrapper
from typing import TextIO

import click

from latchwork.cli.lazy import LazyGroup
from latchwork.problems import LatchworkError, Problem

SUMMARIES = {
    "new": "Begin a machine of your own in a new folder.",
    "check": "Check wiring, levels and microprogram against the rules.",
    "assemble": "Assemble a program; show its listing or write its files.",
    "run": "Run a program on the chip-level machine.",
    "debug": "Stop a program anywhere, look at any wire, and go back.",
    "card": "Show the reference card of the instruction set.",
    "timing": "Find the fastest safe clock and what sets it.",
    "supply": "Find what the machine draws, and what reaches its chips.",
    "values": "Do a small sum: 555, reset, lamp, pull-up, divider.",
    "spare": "Show what is free: gates, control lines, opcodes, steps.",
    "images": "Write the ROM images, with a table and a label sheet.",
    "fuses": "Make the fuse file of a programmable device from its logic.",
    "verify": "Compare a chip read back on the bench with what it should hold.",
    "disassemble": "Turn a program's image into assembly text.",
    "decode": "Show a control image as instructions and control lines.",
    "save": "Save the model in one file that opens without running machine.py.",
    "chips": "List and search the parts of the catalogue.",
    "chip": "Show everything about one part.",
    "vectors": "Make a short test for a chip in hand.",
    "explain": "Explain the code of a problem.",
}
"""What help says of each command, in its order."""

WELL, FINDINGS, UNUSABLE = 0, 1, 2


@click.group(
    cls=LazyGroup,
    package="latchwork.cli.commands",
    summaries=SUMMARIES,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    invoke_without_command=True,
)
@click.option("--debug", is_flag=True, help="Show where in Latchwork an internal error came from.")
@click.option("--version", is_flag=True, help="Show the version.")
@click.pass_context
def group(context: click.Context, debug: bool, version: bool) -> None:
    """One description of a home-built computer of logic chips, and everything that follows from it.

    MACHINE is a folder with a machine.py, such a file, or a saved model; this folder if left out. A machine.py is a
    program and is run: open only what you trust.
    """
    if version:
        from latchwork import __version__

        click.echo(f"Latchwork {__version__}")
    elif context.invoked_subcommand is None:
        click.echo(context.get_help())


def main(arguments: Sequence[str] | None = None) -> None:
    """The entry point of the program."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    _open_streams()
    sys.exit(run(given))


def _open_streams() -> None:
    """Whatever the encoding of the terminal, text can be printed: letters that it lacks are written in ASCII.
    A stream that was closed before takes everything and keeps nothing."""
    sys.stdout = _printable(sys.stdout)
    sys.stderr = _printable(sys.stderr)


def _printable(stream: TextIO | None) -> TextIO:
    if stream is None:
        return open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123
    if isinstance(stream, TextIOWrapper):
        stream.reconfigure(errors="backslashreplace")
    return stream


def run(arguments: list[str]) -> int:
    """Run a command line; gives the exit status."""
    debug = "--debug" in arguments
    words = [word for word in arguments if word != "--debug"]
    try:
        status = group.main(words, prog_name="latchwork", standalone_mode=False)
        sys.stdout.flush()
        return status if isinstance(status, int) else WELL
    except (BrokenPipeError, SystemExit):  # the latter is how click leaves, and only then, when the reader is gone
        return _reader_went_away()
    except (click.Abort, KeyboardInterrupt):
        click.echo("stopped", err=True)
        return 130
    except (LatchworkError, click.ClickException, OSError) as error:
        return _refused(error, words)
    except Exception as error:
        if debug:
            raise
        return _refused(_internal(error), words)


def _reader_went_away() -> int:
    """Whoever read our output has seen enough."""
    _let_go(sys.stdout)
    return WELL


def _let_go(stream: TextIO) -> None:
    """What is still to be written there is dropped, so that nothing fails once more at the end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _refused(error: LatchworkError | click.ClickException | OSError, words: list[str]) -> int:
    from latchwork.cli.show import show_problems

    as_json = "--json" in words
    command = next((word for word in words if not word.startswith("-")), "")
    try:
        sys.stdout.flush()
        show_problems(_problems(error), as_json, command)
        sys.stdout.flush()
    except OSError:
        _let_go(sys.stdout)
        show_problems(_problems(error), False, command)
    return UNUSABLE


def _problems(error: LatchworkError | click.ClickException | OSError) -> tuple[Problem, ...]:
    if isinstance(error, LatchworkError):
        return error.problems
    if isinstance(error, OSError):
        name = error.filename or "the output"
        hint = "may you read and write there, and is there room?" if error.filename else ""
        return (Problem("C104", f"{name} can't be used: {reason_of(error)}", help=hint),)
    context = getattr(error, "ctx", None)
    command = context.command_path if context else "latchwork"
    message = re.sub("is not a valid integer( range)?", "is not a whole number", _sentence(error.format_message()))
    return (Problem("C101", message, help=f'"{command} --help" shows what it takes'),)


def reason_of(error: OSError) -> str:
    """The system's reason in the form of our messages."""
    return _sentence(error.strerror or str(error))


def _sentence(message: str) -> str:
    """The library's message in the form of ours: lower case at the start, no full stop."""
    text = " ".join(message.split()).rstrip(".")
    return text[:1].lower() + text[1:]


def _internal(error: Exception) -> LatchworkError:
    frame = error.__traceback__
    while frame is not None and frame.tb_next is not None:
        frame = frame.tb_next
    code = frame.tb_frame.f_code if frame else None
    place = f" in {code.co_name}, {os.path.basename(code.co_filename)}:{frame.tb_lineno}" if code and frame else ""  # noqa: PTH119
    message = f"Latchwork itself made a mistake: {type(error).__name__}{place}"
    hint = "please report it, with your files and what the same call says with --debug"
    return LatchworkError(Problem("C900", message, help=hint))
