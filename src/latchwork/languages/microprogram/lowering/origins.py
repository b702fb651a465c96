"""Saying of an address pin where its net comes from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from latchwork.analysis.store import Literal
from latchwork.netlist import NetId, PinRef
from latchwork.netlist.queries import chip_name, pin_name

if TYPE_CHECKING:
    from latchwork.languages.microprogram.lowering.context import Context


def unknown_origin(context: Context, literal: Literal) -> None:
    """Notes an address pin that is fed by something of which nobody said what it is."""
    cone = context.store.cone(literal.net)
    sources = [f"`{context.netlist.nets[net].name}`" for net in sorted(cone.nets)]
    sources += [f"a state of {chip_name(context.netlist, chip)}" for chip in sorted({at.chip for at in cone.states})]
    sources += [f"the switch {context.netlist.chips[chip].reference}" for chip, _ in sorted(cone.switches)]
    sources += [f"{chip_name(context.netlist, chip)}, which holds bytes" for chip in sorted(cone.memories)]
    known = ", ".join(sources[:4]) or "nothing that drives it"
    message = f"{feeding(context, literal.net)}, which comes from {known}"
    hint = "name its net in opcode= or conditions= of m.microprogram, or state its level with `m.assume`"
    position = context.netlist.chips[_pin_on(context, literal.net).chip].position
    context.findings.add("U220", message, position, context.binding.position, help=hint)


def feeding(context: Context, net: NetId) -> str:
    """The store pin on a net, as the beginning of a sentence."""
    pin = pin_name(context.netlist, _pin_on(context, net))
    return f"the store address pin {pin} is joined to `{context.netlist.nets[net].name}`"


def _pin_on(context: Context, net: NetId) -> PinRef:
    chips = {chip.chip for chip in context.store.chips}
    return next(at for at in context.netlist.pins_on[net] if at.chip in chips)
