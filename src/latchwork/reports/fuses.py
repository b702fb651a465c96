"""What is reported about a programmable device and its fuses."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class FusedOutput:
    """An output: how many of the product terms that are there it takes. ``shows``: "logic" or "register"; ``high``:
    whether its terms say when it is high (or else when it is low)."""

    name: str
    pin: int
    shows: str
    terms: int
    there: int
    high: bool


@dataclass(frozen=True)
class FusesReport:
    """A file of logic or of fuses. ``written``: the fuse file made of it; ``text``: the logic that fuses say."""

    file: str
    device: str
    mode: str
    fuses: int
    checksum: str
    outputs: tuple[FusedOutput, ...]
    written: str = ""
    text: str = ""
