"""From an expanded microprogram to the bits of the control store, as the wiring has it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from latchwork.languages.microprogram.flat import FlatProgram
    from latchwork.model import ControlProgram, MicroprogramBinding
    from latchwork.netlist import Netlist


def lower(
    flat: FlatProgram,
    netlist: Netlist,
    binding: MicroprogramBinding,
    previous: ControlProgram | None = None,
) -> ControlProgram:
    """The control program of a machine. ``previous``: an earlier one; what did not change keeps its micro-addresses.

    Raises LatchworkError with every problem found.
    """
    from latchwork.languages.microprogram.lowering.pipeline import lowered

    return lowered(flat, netlist, binding, previous)
