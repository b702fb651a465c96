"""Writing files from a command: what stands in the way becomes a problem."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from latchwork.base.files import ForeignFileError, check_free, meant, write_files
from latchwork.base.position import Position
from latchwork.problems import Label, LatchworkError, Problem


def write(folder: Path, files: Mapping[str, bytes], force: bool = False) -> None:
    """Write all files or none; see ``base.files``. Raises LatchworkError."""
    try:
        write_files(folder, files, force)
    except ForeignFileError as error:
        raise LatchworkError(_in_the_way(error)) from error
    except OSError as error:
        raise LatchworkError(_not_written(folder, error)) from error


def refuse_foreign(path: Path, force: bool = False) -> None:
    """Say at once that a file stands in the way of what a long run is to write. Raises LatchworkError."""
    try:
        check_free(path.parent, path.name, force)
    except ForeignFileError as error:
        raise LatchworkError(_in_the_way(error)) from error
    except OSError as error:
        raise LatchworkError(_not_written(path.parent, error)) from error


def _not_written(folder: Path, error: OSError) -> Problem:
    from latchwork.cli.main import reason_of

    file = next((each for each in (folder, *folder.parents) if each.exists() and not each.is_dir()), None)
    if file is not None:
        hint = "move it away, or name another folder; nothing was written"
        return Problem("C104", "a file stands where a folder goes", (Label(Position(str(file))),), hint)
    path = str(meant(Path(error.filename)) if isinstance(error.filename, str) else folder)
    if Path(path).is_dir() and isinstance(error, IsADirectoryError):
        return _folder_in_the_way(Path(path))
    hint = "may you write there, and is there room? nothing was written"
    return Problem("C104", f"this can't be written: {reason_of(error)}", (Label(Position(path)),), hint)


def _folder_in_the_way(folder: Path) -> Problem:
    labels = (Label(Position(str(folder))),)
    return Problem("C102", "a folder stands where a file goes", labels, "move it away; nothing was written")


def _in_the_way(error: ForeignFileError) -> Problem:
    labels = (Label(Position(str(error.path))),)
    hint = "move it away, or overwrite it with --force; nothing was written"
    if error.path.is_dir():
        return _folder_in_the_way(error.path)
    if not error.path.is_file():
        hint = "name a file; nothing was written"
        return Problem("C102", "a device or a pipe stands where a file goes", labels, hint)
    if error.changed:
        return Problem("C103", "this file was changed since Latchwork wrote it", labels, hint)
    return Problem("C102", "this file was not written by Latchwork", labels, hint)
