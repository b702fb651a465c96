"""Python's errors in machine.py as problems: the user's file, line and column, and no traceback."""

from __future__ import annotations

import builtins
import re
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from pathlib import Path
from types import TracebackType

from latchwork.base.position import Position
from latchwork.design.place import is_own, of_frame, shown_file
from latchwork.problems import Label, Problem


def problem_of(error: BaseException, file: Path, names: Mapping[str, object]) -> Problem:
    """What went wrong, at the innermost line of the machine's folder. ``names``: those that the module has."""
    if isinstance(error, SyntaxError) and error.filename:
        return _syntax(error)
    if isinstance(error, (SyntaxError, UnicodeError)) or _unreadable(error):
        return Problem("M107", f"{file.name} is not Python source: {error}", (Label(Position(str(file))),))
    position = _place(error, file)
    if isinstance(error, (MemoryError, RecursionError)) and not position.line:
        hint = "write its longest expression in several steps"
        return Problem("M107", f"{file.name} is nested too deeply for Python", (Label(position),), hint)
    if isinstance(error, SystemExit):
        return Problem("M106", f"{file.name} ends the program", (Label(position),), "leave out exit(); just let it end")
    if isinstance(error, KeyboardInterrupt):
        return Problem("M106", f"{file.name} was interrupted", (Label(position),))
    return Problem("M105", _sentence(error), (Label(position),), _hint(error, names))


def _unreadable(error: BaseException) -> bool:
    """Null bytes in a source raise ValueError from the compiler, before any frame of the source."""
    return isinstance(error, ValueError) and "null bytes" in _text(error)


def _syntax(error: SyntaxError) -> Problem:
    position = Position(shown_file(str(error.filename)), error.lineno or 0, error.offset or 0)
    what = "the indentation is wrong" if isinstance(error, IndentationError) else "this is not Python"
    return Problem("M104", f"{what}: {error.msg}", (Label(position),))


def _place(error: BaseException, file: Path) -> Position:
    """The innermost line of the machine's own folder; else the innermost outside of Latchwork."""
    users = [each for each in _calls(error.__traceback__) if not is_own(each.tb_frame.f_code.co_filename)]
    folder = str(file.parent.absolute())
    inside = [each for each in users if str(Path(each.tb_frame.f_code.co_filename).absolute()).startswith(folder)]
    for each in reversed(inside or users):
        return of_frame(each.tb_frame.f_code, each.tb_lasti, each.tb_lineno)
    return Position(str(file))


def _calls(traceback: TracebackType | None) -> Iterator[TracebackType]:
    """From the outermost to the innermost."""
    while traceback is not None:
        yield traceback
        traceback = traceback.tb_next


def _sentence(error: BaseException) -> str:
    text = " ".join(_text(error).split())
    name = type(error).__name__
    if isinstance(error, RecursionError):
        return "a function calls itself without end"
    if isinstance(error, MemoryError):
        return "it asks for more memory than there is"
    if isinstance(error, ImportError):
        text = re.sub(r" \(\S*latchwork/__init__\.py\)$", "", text)
    return f"{name}: {text}" if text else name


def _text(error: BaseException) -> str:
    """What an error says; nothing where a class of the user's own fails at telling it."""
    try:
        return str(error)
    except Exception:
        return ""


def _hint(error: BaseException, names: Mapping[str, object]) -> str:
    """Names that look like the one that is missing."""
    if isinstance(error, AttributeError):
        return _near(error.name, dir(error.obj))
    if isinstance(error, NameError):
        return _near(error.name, [*names, *dir(builtins)])
    if isinstance(error, ImportError) and error.name == "latchwork":
        import latchwork

        wanted = str(error).split("'")[1:2]
        return _near(wanted[0] if wanted else "", latchwork.__all__)
    if isinstance(error, ModuleNotFoundError):
        return f"a module is {error.name}.py in the machine's folder, or is installed beside Latchwork"
    return ""


def _near(name: object, known: list[str]) -> str:
    found = get_close_matches(str(name), [each for each in known if not each.startswith("_")], n=1)
    return f'did you mean "{found[0]}"?' if found else ""
