"""What the ROMs of a machine hold already: the control program whose images were written last.

``latchwork images`` leaves the saved model beside the images. A microprogram that is fitted to the wiring again gives
every instruction that did not change the micro-addresses that it has there, so that one new step does not mean that
every ROM is burned anew.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from latchwork.base.position import Position
from latchwork.load.saved import open_saved
from latchwork.model import ControlProgram
from latchwork.netlist import NetId, Netlist
from latchwork.problems import Label, LatchworkError, Problem

SAVED = ".latchwork"
"""How the name of a saved model ends."""
IMAGES = "images"
"""The folder in a machine's own where its images go."""


def burned_before(folder: Path, netlist: Netlist) -> ControlProgram | None:
    """The control program of the images in ``folder``, its nets those of ``netlist``; None where there is none.

    Raises LatchworkError where the file beside the images can't be read.
    """
    file = folder / f"{netlist.name}{SAVED}"
    if not file.is_file():
        return None
    try:
        model = open_saved(file)
    except LatchworkError as error:
        message = f"what the ROMs hold already can't be read: {error.problems[0].message}"
        hint = "remove the file, and micro-addresses are given out anew; or write the images again"
        raise LatchworkError(Problem("M112", message, (Label(Position(str(file))),), hint)) from error
    return _renumbered(model.control, model.netlist, netlist) if model.control else None


def _renumbered(control: ControlProgram, before: Netlist, now: Netlist) -> ControlProgram:
    """The program with its nets by the names that they had. One that is gone is left out."""

    def same(nets: tuple[NetId, ...]) -> tuple[NetId, ...]:
        names = (before.nets[net].name for net in nets)
        return tuple(now.net_named[name] for name in names if name in now.net_named)

    return replace(control, address_nets=same(control.address_nets), word_nets=same(control.word_nets))
