"""Which line of the user's a statement stands on: the innermost frame outside of Latchwork."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path

import latchwork
from latchwork.base.position import NOWHERE, Position

_HOME = str(Path(latchwork.__file__).parent) + os.sep
_FOLDERS: ContextVar[tuple[str, str]] = ContextVar("_FOLDERS", default=("", ""))


def here() -> Position:
    """File and line of the user's code that called into Latchwork."""
    frame = sys._getframe(1)
    while frame is not None:
        file = frame.f_code.co_filename
        if not file.startswith(_HOME):
            return Position(shown_file(file), frame.f_lineno)
        frame = frame.f_back  # type: ignore[assignment]
    return NOWHERE


def is_own(file: str) -> bool:
    """Whether a source file belongs to Latchwork."""
    return file.startswith(_HOME)


def shown_file(file: str) -> str:
    """The file's name as the user gave the machine folder, for files in it; else unchanged."""
    folder, shown = _FOLDERS.get()
    if not folder or not file.startswith(folder + os.sep):
        return file
    return str(Path(shown) / file[len(folder) + 1 :])


@contextmanager
def shown_as(folder: Path) -> Iterator[None]:
    """While it lasts, files in ``folder`` are named as ``folder`` is written, not by their absolute paths."""
    token = _FOLDERS.set((str(folder.absolute()), str(folder)))
    try:
        yield
    finally:
        _FOLDERS.reset(token)
