"""What a machine draws from its supply, and what arrives at its chips. Milliamperes and volts."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class ChipSupply:
    """``rest``: at most, while nothing moves; ``switching``: what its outputs charge, at the activity seen. ``volts``
    between its supply pins. ``origin``: of the current at rest."""

    chip: str
    part: str
    board: str
    rest: float
    switching: float
    volts: float
    origin: str


@dataclass(frozen=True)
class BoardSupply:
    """``feed``: what its feed wire carries. ``lowest``: volts at its worst chip; ``with_second_feed``: the same with
    another feed at the far end of its rails."""

    board: str
    chips: int
    rest: float
    switching: float
    lamps: float
    pulls: float
    feed: float
    lowest: float
    worst: str
    with_second_feed: float


@dataclass(frozen=True)
class SupplyReport:
    """``total`` in milliamperes; ``advised``: a supply with margin, in amperes. ``activity``: what ran meanwhile."""

    machine: str
    supply: float
    megahertz: float
    activity: str
    total: float
    advised: float
    boards: tuple[BoardSupply, ...]
    chips: tuple[ChipSupply, ...]
    below: tuple[str, ...]
    heavy: tuple[str, ...]
    cautions: tuple[str, ...]
