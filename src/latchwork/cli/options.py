"""Arguments and options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from latchwork.model import Model


def named(text: str) -> str:
    """The name of a file or folder that an option gives; an empty one is refused."""
    if not text:
        raise click.BadParameter("a name is missing")
    return text


machine_argument = click.argument("machine", default=".", metavar="[MACHINE]")
json_option = click.option("--json", "as_json", is_flag=True, help="Print the report as one JSON object.")
force_option = click.option("--force", is_flag=True, help="Overwrite files that Latchwork did not write.")
program_option = click.option("--program", metavar="FILE", type=named, help="Assemble this program into its ROM first.")


Command = Callable[..., int]


def words_argument(metavar: str) -> Callable[[Command], Command]:
    """Words of which the first may be the machine; ``split`` takes them apart."""
    return click.argument("words", nargs=-1, metavar=metavar)


def split(words: tuple[str, ...], what: str) -> tuple[str, str]:
    """The machine, this folder if left out, and the one word after it. Raises UsageError."""
    if not words or (len(words) == 1 and _is_machine(words[0])):
        raise unusable(f"{what} is missing")
    if len(words) > 2:
        raise unusable(f"{len(words)} words are too many; the machine and {what} are all it takes")
    return (words[0] if len(words) == 2 else "."), words[-1]


def _is_machine(word: str) -> bool:
    path = Path(word)
    return path.is_dir() or path.suffix in (".py", ".latchwork")


def machine_and_program(words: tuple[str, ...]) -> tuple[str, str]:
    """The machine and the program to run; a single word is the machine where it looks like one, else the program."""
    if not words:
        return ".", ""
    if len(words) == 1 and _is_machine(words[0]):
        return words[0], ""
    return split(words, "the program")


def unusable(message: str) -> click.UsageError:
    """A mistake in the call, to be raised by the command that runs."""
    return click.UsageError(message, click.get_current_context())


def model_of(machine: str, program: str | None = None, burned: Path | None = None) -> Model:
    """The model of a machine, with a program in its ROM where one is named. ``burned``: the folder of the images that
    its ROMs hold already. Raises LatchworkError."""
    from latchwork.cli.show import working
    from latchwork.load.model import load_model, with_program

    with working(f"reading {machine}"):
        model = load_model(Path(machine), burned)
        return with_program(model, Path(program)) if program else model
