"""Lowering from end to end: read the wiring, place the steps, find the words, fill the ROMs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from latchwork.analysis.lines import Lines
from latchwork.analysis.sequencing import Sequencer
from latchwork.analysis.store import StoreWiring
from latchwork.languages.microprogram.errors import Findings
from latchwork.languages.microprogram.flat import FlatProgram
from latchwork.languages.microprogram.lowering.blocks import UNDEFINED, Blocks
from latchwork.languages.microprogram.lowering.context import Context
from latchwork.languages.microprogram.lowering.images import images
from latchwork.languages.microprogram.lowering.next import NextForm
from latchwork.languages.microprogram.lowering.rows import PlacedRow, Sight
from latchwork.languages.microprogram.lowering.solver import Solver
from latchwork.languages.microprogram.lowering.start import StartForm
from latchwork.languages.microprogram.lowering.steps import StepsForm
from latchwork.languages.microprogram.lowering.survey import survey
from latchwork.languages.microprogram.lowering.wishes import Vocabulary
from latchwork.model import ControlProgram, MicroprogramBinding, Row
from latchwork.netlist import ChipId, NetId, Netlist


def lowered(
    flat: FlatProgram, netlist: Netlist, binding: MicroprogramBinding, previous: ControlProgram | None
) -> ControlProgram:
    """See ``lower`` in the package."""
    findings = Findings()
    context = _context(flat, netlist, binding, findings, previous)
    survey(context)
    findings.stop_if_any()
    context.resting  # noqa: B018  the lines at rest come first, so that what is wrong with them is said once
    findings.stop_if_any()
    if not context.blocks.instructions:
        findings.add(
            "U227", f"the microprogram {flat.source or 'of the machine'} has no instructions", binding.position
        )
        findings.stop_if_any()
    return _FORMS[context.sequencer.form](context)


def _steps(context: Context) -> ControlProgram:
    return _program(context, StepsForm(context).rows())


def _start(context: Context) -> ControlProgram:
    form = StartForm(context)
    rows = form.rows()
    context.findings.stop_if_any()
    address, words = form.decode_words()
    decode = images(context.store.decode, context.store, address, words, context.store.decode_nets)
    return _program(context, rows, tuple(form.starts.items()), decode)


def _next(context: Context) -> ControlProgram:
    form = NextForm(context)
    return _program(context, form.rows(), tuple(form.starts.items()))


_FORMS = {"steps": _steps, "start": _start, "next": _next}


def _context(
    flat: FlatProgram,
    netlist: Netlist,
    binding: MicroprogramBinding,
    findings: Findings,
    previous: ControlProgram | None,
) -> Context:
    store = _store(netlist, binding, findings)
    lines = Lines(store)
    vocabulary = Vocabulary(flat, netlist, findings)
    blocks = Blocks(flat, len(binding.opcode), vocabulary, findings)
    solver = Solver(lines, findings)
    sequencer = Sequencer(store, lines)
    return Context(
        netlist, binding, store, lines, sequencer, solver, blocks, vocabulary, Sight(store), findings, previous
    )


def _store(netlist: Netlist, binding: MicroprogramBinding, findings: Findings) -> StoreWiring:
    try:
        return StoreWiring(netlist, binding)
    except ValueError as error:
        findings.add("U222", str(error), binding.position)
        findings.stop_if_any()
        raise


def _program(
    context: Context,
    rows: Sequence[PlacedRow],
    starts: tuple[tuple[str, int], ...] = (),
    decode: tuple[tuple[ChipId, bytes], ...] = (),
) -> ControlProgram:
    context.findings.stop_if_any()
    store, nets = context.store, context.store.word_nets
    steering = context.sequencer.steering
    words = {address: row.word(nets) for row in rows for address in row.addresses}
    return ControlProgram(
        form=context.sequencer.form,
        address_nets=store.address_nets,
        word_nets=nets,
        instructions=context.blocks.program.instructions,
        rows=tuple(_listed(rows, nets)),
        opcodes=tuple(
            (opcode, block.name)
            for opcode, block in enumerate(context.blocks.by_opcode)
            if block.name != UNDEFINED.name
        ),
        starts=starts,
        contents=(*images(store.chips, store, store.address_nets, words, nets), *decode),
        dont_care=sum(1 << bit for bit, net in enumerate(nets) if net not in context.lines.reached | steering),
    )


def _listed(rows: Iterable[PlacedRow], nets: Sequence[NetId]) -> Iterable[Row]:
    for row in rows:
        if row.listed:
            conditions = row.where.conditions
            addresses = tuple(sorted(row.addresses))
            yield Row(row.block, row.step, conditions, addresses, row.word(nets), row.wish.settings, row.position)
