"""What all byte-wide memories with /CE, /OE and /WE share: their behaviour and their vectors."""

from __future__ import annotations

from latchwork.chips.pins import numbered
from latchwork.logic import Expression, read, variable
from latchwork.parts import Behaviour, Drive, Memory, OutputKind, Write

NAME = "cells"

selected, shown, written = ~variable("CE_n"), ~variable("OE_n"), ~variable("WE_n")


def byte_memory(address_width: int, strobe: Expression, keeps: bool = False) -> Behaviour:
    """Drives D while selected, shown and not written; takes D by level while ``strobe`` is 1."""
    address = variable("A", address_width)
    return Behaviour(
        memories=(Memory(NAME, 8, address_width, (Write(strobe, address, variable("D", 8)),), keeps),),
        drives=(Drive("D", read(NAME, address, 8), selected & shown & ~written, OutputKind.THREE_STATE),),
    )


def vectors(address_width: int) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return ("A", numbered("A", address_width, first=0)), ("D", numbered("D", 8, first=0))


def read_only(address_width: int, enable: Expression) -> Behaviour:
    """Shows the byte at A on D while ``enable`` is 1; contents outlive power and are never changed."""
    return Behaviour(
        memories=(Memory(NAME, 8, address_width, keeps=True),),
        drives=(Drive("D", read(NAME, variable("A", address_width), 8), enable, OutputKind.THREE_STATE),),
    )
