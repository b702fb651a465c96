"""What ``latchwork new`` made."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Started:
    """A new machine, its folder and the names of its files."""

    machine: str
    folder: str
    files: tuple[str, ...]


@dataclass(frozen=True)
class Saved:
    """A saved model: its file, and how many bytes it has."""

    machine: str
    file: str
    size: int
