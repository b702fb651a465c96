"""What is reported about a run."""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.reports.profile import Profile


@dataclass(frozen=True)
class Happening:
    """Something that a bench would show as trouble; see ``engines.protocol.Incident``. ``count``: how often."""

    kind: str
    time_ps: int
    clock: int
    sentence: str
    count: int = 1


@dataclass(frozen=True)
class RunReport:
    """``stop``: "halt", "until", "clocks", "oscillation", "device" (one failed), "interrupted" (by hand) or "nothing"
    (nothing will ever happen again); ``reason``
    says it in words. ``clocks`` counts from power-up. ``instructions`` is None in a machine without microprogram.
    Numbers are None where a bit is unknown or carries nothing. ``outputs``: the values of each output port in order.
    ``warnings``: problems as data (see ``problems.data``) that do not keep the machine from running.
    """

    machine: str
    program: str
    stop: str
    reason: str
    clocks: int
    time_ps: int
    instructions: int | None
    registers: dict[str, int | None]
    outputs: dict[str, tuple[int | None, ...]]
    watched: dict[str, int | None]
    happenings: tuple[Happening, ...]
    seed: int = 0
    unknown: bool = False
    profile: Profile | None = None
    warnings: tuple[dict[str, object], ...] = ()
