"""Where a statement of the user's stands: the innermost frame outside of Latchwork."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache
from linecache import getline
from pathlib import Path
from types import CodeType, FrameType

import latchwork
from latchwork.base.position import NOWHERE, Position

_HOME = str(Path(latchwork.__file__).parent) + os.sep
_FOLDERS: ContextVar[tuple[str, str]] = ContextVar("_FOLDERS", default=("", ""))


def here() -> Position:
    """File, line and column at which the user's call into Latchwork begins."""
    frame: FrameType | None = sys._getframe(1)
    while frame is not None:
        if not is_own(frame.f_code.co_filename):
            return of_frame(frame.f_code, frame.f_lasti, frame.f_lineno)
        frame = frame.f_back
    return NOWHERE


def of_frame(code: CodeType, instruction: int, line: int) -> Position:
    """The place of what a frame is doing: where its expression begins, or its ``line`` where that was not kept."""
    start, offset = _starts(code)[instruction // 2] if instruction >= 0 else (None, None)
    file = shown_file(code.co_filename)
    if start is None or offset is None:
        return Position(file, line)
    return Position(file, start, _letters(code.co_filename, start, offset) + 1)


@lru_cache(maxsize=1024)
def _starts(code: CodeType) -> list[tuple[int | None, int | None]]:
    """Line and byte offset at which each instruction's expression begins."""
    return [(line, offset) for line, _, offset, _ in code.co_positions()]


def _letters(file: str, line: int, offset: int) -> int:
    """How many letters stand before a byte of a line."""
    text = getline(file, line).encode()
    return len(text[:offset].decode(errors="ignore")) if len(text) >= offset else offset


def is_own(file: str) -> bool:
    """Whether a source file belongs to Latchwork."""
    return file.startswith(_HOME)


def shown_file(file: str) -> str:
    """The file's name as the user gave the machine folder, for files in it; else unchanged."""
    folder, shown = _FOLDERS.get()
    if not folder or not file.startswith(folder + os.sep):
        return file
    return str(Path(shown) / file[len(folder) + 1 :])


def beside() -> Path:
    """The folder in which files that machine.py names are looked for: the machine's, else that of the user's line."""
    shown = _FOLDERS.get()[1]
    return Path(shown) if shown else Path(here().file).parent


@contextmanager
def shown_as(folder: Path) -> Iterator[None]:
    """While it lasts, files in ``folder`` are named as ``folder`` is written, not by their absolute paths."""
    token = _FOLDERS.set((str(folder.absolute()), str(folder)))
    try:
        yield
    finally:
        _FOLDERS.reset(token)
