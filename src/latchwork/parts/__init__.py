"""What a part is: pins, behaviour, figures with their sources, package. Types only; the parts are in chips/."""

from latchwork.parts.behaviour import (
    Behaviour,
    Drive,
    Keeper,
    Latch,
    Level,
    Memory,
    OutputKind,
    Register,
    Tie,
    TieKind,
    Timer,
    TimerKind,
    Update,
    Write,
)
from latchwork.parts.figures import Confidence, Figure
from latchwork.parts.part import Direction, Entry, Floating, Part, Pin, Unit

__all__ = [
    "Behaviour",
    "Confidence",
    "Direction",
    "Drive",
    "Entry",
    "Figure",
    "Floating",
    "Keeper",
    "Latch",
    "Level",
    "Memory",
    "OutputKind",
    "Part",
    "Pin",
    "Register",
    "Tie",
    "TieKind",
    "Timer",
    "TimerKind",
    "Unit",
    "Update",
    "Write",
]
