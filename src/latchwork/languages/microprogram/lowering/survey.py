"""A first look at the wiring around the control store: what must be so before anything can be solved."""

from __future__ import annotations

from latchwork.analysis.edges import next_cone
from latchwork.analysis.settle import StateBit
from latchwork.languages.microprogram.lowering.context import Context
from latchwork.languages.microprogram.lowering.origins import feeding, unknown_origin
from latchwork.netlist import PinRef
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import memory_pins, pin_name, readers


def survey(context: Context) -> None:
    """Notes what stands in the way."""
    _clock(context)
    _open_pins(context)
    _origins(context)
    _telling_apart(context)
    _interrupt(context)
    _loose_bits(context)
    _two_words(context)


def _clock(context: Context) -> None:
    if context.netlist.clock == NO_NET:
        hint = "add `m.clock(...)` or `m.hand_clock()` to machine.py"
        message = "a microprogram needs a clock, and the machine has none"
        context.findings.add("U223", message, context.binding.position, help=hint)
        context.findings.stop_if_any()


def _open_pins(context: Context) -> None:
    for chip in (*context.store.chips, *context.store.decode):
        pins = memory_pins(context.netlist.part_of(chip.chip))
        assert pins is not None
        for pin, net in zip(pins.address, chip.address, strict=True):
            if net == NO_NET:
                message = f"the address pin {pin_name(context.netlist, PinRef(chip.chip, pin))} is left open"
                position = context.netlist.chips[chip.chip].position
                context.findings.add("U221", message, position, help="tie it HIGH or LOW, or join it to a net")


def _origins(context: Context) -> None:
    if context.sequencer.form == "next":
        return
    for literal in context.sequencer.address:
        if literal.role.kind in ("unknown", "computed", "decode"):
            unknown_origin(context, literal)
        elif literal.role.kind == "word":
            context.findings.add("U220", feeding(context, literal.net) + ", a bit of the control word itself",
                                 context.binding.position)  # fmt: skip
        elif literal.role.kind == "state" and _from_elsewhere(context, literal.role.state):
            unknown_origin(context, literal)


def _from_elsewhere(context: Context, state: StateBit) -> bool:
    """Whether a register bit at the address follows from data: from a memory other than the store and its decoders."""
    store = context.store
    own = {chip.chip for chip in (*store.chips, *store.decode)}
    seen: set[StateBit] = set()
    waiting = [state]
    while waiting:
        at = waiting.pop()
        if at in seen or store.state_role(at)[0].kind != "state":
            continue
        seen.add(at)
        cone = next_cone(store.whole, at, store.named)
        if cone.memories - own:
            return True
        waiting += cone.states
    return False


def _telling_apart(context: Context) -> None:
    if context.sequencer.form == "steps" and not context.bits_of("opcode") and len(context.blocks.instructions) > 1:
        message = "no address pin of the control store sees a bit of the opcode, and there are no decode ROMs"
        hint = (
            "join opcode nets to address pins, or name the ROMs that find start addresses in decode= of m.microprogram"
        )
        context.findings.add("U227", message, context.binding.position, help=hint)


def _interrupt(context: Context) -> None:
    entry = context.blocks.entry
    if entry is None:
        return
    if context.binding.interrupt == NO_NET:
        hint = "name the net that asks for it in interrupt= of m.microprogram"
        context.findings.add("U228", f"nothing says when `{entry.name}` is to run", entry.position,
                             context.binding.position, help=hint)  # fmt: skip
    elif context.sequencer.form == "steps" and not context.bits_of("interrupt"):
        name = context.netlist.nets[context.binding.interrupt].name
        message = f"`{entry.name}` cannot run: no address pin of the control store sees `{name}`"
        context.findings.add("U228", message, entry.position, context.binding.position)


def _loose_bits(context: Context) -> None:
    """Bits of the word that act on something, with no control line by which a step could speak of them."""
    for net in context.store.word_nets:
        if net in context.lines.reached or net in context.sequencer.steering:
            continue
        store = {chip.chip for chip in context.store.chips}
        acting = [at for at in readers(context.netlist, net) if at.chip not in store]
        if acting:
            name = context.netlist.nets[net].name
            message = f"the store bit `{name}` leads to {pin_name(context.netlist, acting[0])} and to no control line"
            hint = "give what it sets a name with `m.line`, so that steps can ask for it; nothing else tells its level"
            position = context.netlist.chips[acting[0].chip].position
            context.findings.add("U209", message, position, context.binding.position, help=hint)


def _two_words(context: Context) -> None:
    """Lines that hang on the word at work and on the one that comes."""
    for name, cone in context.lines.cones.items():
        if len(cone.delays) > 1:
            message = f"the line `{name}` hangs on two control words at once, the one at work and the one that comes"
            hint = "lead all of its bits through the control register, or none"
            context.findings.add("U210", message, (cone.line.position, f"the line `{name}`"), help=hint)
