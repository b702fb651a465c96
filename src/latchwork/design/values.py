"""Reading what a person writes: names, quantities, levels, nets. Everything else is a mistake with its line."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from latchwork.base.quantity import PICOSECONDS, picoseconds, quantity
from latchwork.design.mistakes import kind_of, mistake
from latchwork.design.signals import Bus, Level, Net

if TYPE_CHECKING:
    from latchwork.design.draft import Draft

_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]*")
_HOUR_PS = 3600 * PICOSECONDS


def name_of(value: object, what: str) -> str:
    """A name of letters, digits and underscores that begins with a letter."""
    if not isinstance(value, str):
        raise mistake("M007", f"the name of {what} is a text, not {kind_of(value)}")
    if not _NAME.fullmatch(value):
        hint = "use letters, digits and underscores, a letter first; a bar is written _n at the end"
        raise mistake("M011", f'"{value}" is no name for {what}', help=hint)
    return value


def text_of(value: object, what: str) -> str:
    if not isinstance(value, str):
        raise mistake("M007", f"{what} is a text, not {kind_of(value)}")
    return value


def number_of(value: object, what: str, least: int = 0, most: int = 1 << 32) -> int:
    """A whole number within bounds."""
    if not isinstance(value, int) or isinstance(value, (bool, Level)):
        raise mistake("M007", f"{what} is a whole number, not {kind_of(value)}")
    if not least <= value <= most:
        raise mistake("M010", f"{what} is {least} to {most}, not {value}")
    return int(value)


def ohms_of(value: object) -> int:
    """A resistance: "10k", 330, "4.7k"; whole ohms."""
    return _whole(value, "a resistance", '"10k" or 330', (1, 10**9), 1)


def time_of(value: object, what: str = "a time") -> int:
    """A time in picoseconds from seconds: "100n", 0.25."""
    return _whole(value, what, '"100n" or "2m", in seconds', (1, _HOUR_PS), PICOSECONDS)


def period_of(frequency: object) -> int:
    """The period in picoseconds of a frequency in hertz: 2_000_000, "2M"."""
    hertz = _whole(frequency, "a frequency", '2_000_000 or "2M"', (1, 10**13), 1000)
    return round(PICOSECONDS * 1000 / hertz)


def _whole(value: object, what: str, example: str, bounds: tuple[int, int], scale: int) -> int:
    """``value`` times ``scale``, a whole number within bounds."""
    if not isinstance(value, (str, int, float)) or isinstance(value, (bool, Level)):
        raise mistake("M007", f"{what} is a number or a text such as {example}, not {kind_of(value)}")
    try:
        number = picoseconds(value) if scale == PICOSECONDS else int(quantity(value) * scale)
    except (ValueError, ArithmeticError):
        raise mistake("M010", f"{kind_of(value)} is not {what}", help=f"write for example {example}") from None
    if not bounds[0] <= number <= bounds[1]:
        raise mistake("M010", f"{kind_of(value)} is out of range for {what}", help=f"write for example {example}")
    return number


def level_of(value: object, what: str) -> int:
    """HIGH, LOW, 1 or 0."""
    if isinstance(value, int) and not isinstance(value, bool) and value in (0, 1):
        return int(value)
    raise mistake("M007", f"{what} is HIGH or LOW, not {kind_of(value)}")


def rail_of(value: object) -> Level:
    """The rail that a closed switch ties its net to."""
    return Level(level_of(value, "closed"))


def volts_of(value: object) -> int:
    """A supply in millivolts from volts: 5.0, "3.3 V"."""
    return _whole(value, "a supply", "5.0, in volts", (1000, 18000), 1000)


def net_of(draft: Draft, value: object, what: str) -> Net:
    """One net of this machine."""
    if isinstance(value, Bus) and len(value) == 1:
        value = value[0]
    if not isinstance(value, Net):
        raise mistake("M007", f"{what} is a net, not {kind_of(value)}", help=_hint(draft, value))
    return _own(draft, value)


def nets_of(draft: Draft, value: object, what: str) -> tuple[Net, ...]:
    """Nets of this machine, lowest bit first, from a net, a bus or a list of nets."""
    if isinstance(value, Net):
        return (_own(draft, value),)
    if isinstance(value, (str, Level)) or not isinstance(value, Iterable):
        raise mistake("M007", f"{what} is a net or a bus, not {kind_of(value)}", help=_hint(draft, value))
    return tuple(net_of(draft, each, f"each of {what}") for each in value)


def _own(draft: Draft, net: Net) -> Net:
    if net.draft is not draft:
        raise mistake("M008", f'{net.described} belongs to another machine, "{net.draft.name}"')
    return net


def _hint(draft: Draft, value: object) -> str:
    """Where a text happens to be a net's name: how to get the net."""
    if isinstance(value, str):
        known = draft.names.get(value)
        return f'"{value}" is the name of a net; keep what m.net(...) gives and write that' if known else ""
    return ""
