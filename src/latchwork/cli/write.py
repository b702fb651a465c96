"""Writing files from a command: what stands in the way becomes a problem."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from latchwork.base.files import ForeignFileError, write_files
from latchwork.base.position import Position
from latchwork.problems import Label, LatchworkError, Problem


def write(folder: Path, files: Mapping[str, bytes], force: bool = False) -> None:
    """Write all files or none; see ``base.files``. Raises LatchworkError."""
    try:
        write_files(folder, files, force)
    except ForeignFileError as error:
        raise LatchworkError(_in_the_way(error)) from error
    except OSError as error:
        message = f"{error.filename or folder} can't be written: {error.strerror or error}"
        raise LatchworkError(Problem("C104", message, help="nothing was written")) from error


def _in_the_way(error: ForeignFileError) -> Problem:
    labels = (Label(Position(str(error.path))),)
    hint = "move it away, or overwrite it with --force; nothing was written"
    if error.path.is_dir():
        return Problem("C102", "a folder stands where a file goes", labels, "move it away; nothing was written")
    if error.changed:
        return Problem("C103", "this file was changed since Latchwork wrote it", labels, hint)
    return Problem("C102", "this file was not written by Latchwork", labels, hint)
