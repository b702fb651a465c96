"""What a search has found, before it is confirmed."""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.analysis.one_part.faults import Fault
from latchwork.reports.vectors import Vector


@dataclass(frozen=True)
class Found:
    """``shown``: faults that the vectors show; ``hidden``: faults that no vector can show."""

    vectors: list[Vector]
    shown: list[Fault]
    hidden: list[Fault]
