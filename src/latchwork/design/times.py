"""Times of the one-shots and oscillators inside of a chip, which resistors and capacitors outside of it set."""

from __future__ import annotations

from collections.abc import Mapping

from latchwork.design.draft import DraftChip
from latchwork.design.mistakes import kind_of, listed, mistake
from latchwork.design.values import time_of


def give_times(chip: DraftChip, times: Mapping[str, str | float] | None) -> None:
    """Put times, in seconds, among the chip's parameters; each one that the part asks for, and no other."""
    wanted = dict.fromkeys(timer.time for timer in chip.part.behaviour.timers if timer.time)
    if times is not None and not isinstance(times, Mapping):
        raise mistake("M007", f'times are a dictionary such as {{"width": "10u"}}, not {kind_of(times)}')
    given = dict(times or {})
    for name, value in given.items():
        if name not in wanted:
            has = listed(wanted) if wanted else "none"
            raise mistake("M012", f'{chip.part.name} has no time "{name}"; it has {has}')
        chip.parameters[name] = time_of(value, f"the time {name}")
    missing = [name for name in wanted if name not in given]
    if missing:
        example = ", ".join(f'"{name}": "10u"' for name in wanted)
        hint = f"write times={{{example}}}, in seconds"
        raise mistake("M026", f"{chip.described} needs the time {missing[0]}", help=hint)
