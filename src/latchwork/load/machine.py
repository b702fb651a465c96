"""Running machine.py, and taking from it the one machine that it describes.

A machine folder is a program and trusted like one. What it prints goes to standard error; modules of its folder
are forgotten afterwards, so that two machines may both have a ``registers.py``.
"""

from __future__ import annotations

import contextlib
import importlib
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

from latchwork.base.position import Position
from latchwork.design.machine import Machine
from latchwork.design.place import shown_as, shown_file
from latchwork.load.python_errors import problem_of
from latchwork.model import Statements
from latchwork.netlist import ChipId, Netlist
from latchwork.netlist.verify import verify
from latchwork.problems import Label, LatchworkError, Problem

FILE = "machine.py"
_MODULE = "machine"


@dataclass(frozen=True)
class LoadedMachine:
    """What machine.py described. ``contents``: bytes of its table ROMs; ``sources``: the files it was written in."""

    folder: Path
    file: Path
    netlist: Netlist
    statements: Statements
    contents: dict[ChipId, bytes]
    sources: tuple[str, ...]


def read_machine(path: str | Path) -> LoadedMachine:
    """The machine in a folder (in its machine.py) or in a file. Raises LatchworkError with every problem found."""
    file = machine_file(Path(path))
    with shown_as(file.parent):
        module, sources = _run(file)
        machine = _the_machine(module, file)
        netlist, statements = machine.netlist(), machine.statements()
    problems = verify(netlist)
    if problems:
        raise LatchworkError(problems)
    return LoadedMachine(file.parent, file, netlist, statements, machine.contents(), sources)


def machine_file(path: Path) -> Path:
    """The file of a machine that is given as folder or file."""
    file = path / FILE if path.is_dir() else path
    if file.is_file() and file.suffix == ".py":
        return file
    if file.is_file():
        hint = "only these are opened: a description, which ends in .py, and a saved model, which ends in .latchwork"
        raise _refused("M101", f'"{path}" is no description of a machine', path, hint)
    if path.is_dir():
        hint = f'name a folder with a {FILE}, or begin one with "latchwork new NAME"'
        raise _refused("M101", f'the folder "{path}" has no {FILE}', path, hint)
    hint = f"name a folder with a {FILE}, or such a file"
    there = f'"{path}" is neither a folder nor a file' if path.exists() else f'there is no "{path}"'
    raise _refused("M101", there, path, hint)


def _refused(code: str, message: str, file: Path, hint: str = "", line: int = 0) -> LatchworkError:
    return LatchworkError(Problem(code, message, (Label(Position(str(file), line)),), hint))


def _run(file: Path) -> tuple[ModuleType, tuple[str, ...]]:
    """The module after its run, and the files that it and its imports were written in."""
    module = ModuleType(_MODULE)
    module.__file__ = str(file)
    text = _text(file)
    with _importing_from(file.parent, module) as sources, contextlib.redirect_stdout(sys.stderr):
        try:
            exec(compile(text, str(file), "exec"), vars(module))
        except LatchworkError:
            raise
        except BaseException as error:
            raise LatchworkError(problem_of(error, file, vars(module))) from error
    return module, (str(file), *sources)


def _text(file: Path) -> bytes:
    """The source as bytes: Python itself heeds a coding line."""
    try:
        return file.read_bytes()
    except OSError as error:
        raise _refused("M107", f"{FILE} cannot be read: {error.strerror}", file) from error


@contextlib.contextmanager
def _importing_from(folder: Path, module: ModuleType) -> Iterator[list[str]]:
    """While it lasts, modules are found in the folder first; gives the list that their files are put into."""
    absolute, before = str(folder.absolute()), dict(sys.modules)
    quiet, sys.dont_write_bytecode = sys.dont_write_bytecode, True
    sources: list[str] = []
    sys.path.insert(0, absolute)
    sys.modules[_MODULE] = module
    importlib.invalidate_caches()
    try:
        yield sources
    finally:
        sys.dont_write_bytecode = quiet
        with contextlib.suppress(ValueError):
            sys.path.remove(absolute)
        sources += sorted(shown_file(name) for name in _forgotten(absolute, before))
        _put_back(before)


def _forgotten(folder: str, before: dict[str, ModuleType]) -> set[str]:
    """Forget the modules of a folder; gives their files."""
    files = set()
    for name, module in list(sys.modules.items()):
        file = getattr(module, "__file__", None)
        if before.get(name) is not module and isinstance(file, str) and Path(folder) in Path(file).parents:
            files.add(file)
            del sys.modules[name]
    return files


def _put_back(before: dict[str, ModuleType]) -> None:
    if _MODULE in before:
        sys.modules[_MODULE] = before[_MODULE]
    else:
        sys.modules.pop(_MODULE, None)


def _the_machine(module: ModuleType, file: Path) -> Machine:
    """The one machine among the names of the module."""
    found = {id(value): value for value in vars(module).values() if isinstance(value, Machine)}
    if not found:
        hint = 'write m = Machine("name") at the top level'
        raise _refused("M102", f"{file.name} makes no machine", file, hint)
    machines = list(found.values())
    if len(machines) > 1:
        names = " and ".join(f'"{machine.name}"' for machine in machines)
        labels = tuple(Label(machine.position, f'"{machine.name}" is made here') for machine in machines)
        hint = "keep one in a file; give the other a folder of its own"
        raise LatchworkError(Problem("M103", f"{file.name} makes {len(machines)} machines, {names}", labels, hint))
    return machines[0]
