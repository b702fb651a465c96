"""Steps whose word is looked up before the new opcode is there must be the same for all instructions."""

from __future__ import annotations

from collections.abc import Mapping

from latchwork.languages.microprogram.errors import counted
from latchwork.languages.microprogram.flat import FlatBlock
from latchwork.languages.microprogram.lowering.context import Context
from latchwork.languages.microprogram.lowering.rows import PlacedRow

Places = Mapping[tuple[str, int], list[PlacedRow]]


def ready_step(context: Context, block: FlatBlock, rows: Places) -> tuple[int, int]:
    """The step of a block that first takes a new opcode, and the first step that is looked up with it."""
    for step in range(len(block.steps)):
        for row in rows.get((block.name, step), []):
            if context.sequencer.opcode_takes(row.bits):
                return step, step + context.sequencer.opcode_lag
    return -1, 0


def check_early(context: Context, rows: Places) -> None:
    """Notes blocks that differ from the first one too early."""
    blocks = context.blocks
    if not blocks.instructions:
        return
    first = blocks.first
    taking, ready = ready_step(context, first, rows)
    others = [block for block in (*blocks.instructions, blocks.illegal) if blocks.opcodes_of(block)]
    for block in others:
        for step in range(ready):
            if _wish(context, block, step) != _wish(context, first, step):
                _complain(context, first, block, step, taking)
                break


def _wish(context: Context, block: FlatBlock, step: int) -> object:
    wishes = context.blocks.wishes(block)
    return wishes[step] if step < len(wishes) else context.vocabulary.at_rest


def _complain(context: Context, first: FlatBlock, block: FlatBlock, step: int, taking: int) -> None:
    def place(of: FlatBlock) -> object:
        return of.steps[step].position if step < len(of.steps) else of.position

    lag = context.sequencer.opcode_lag
    message = (
        f"step {step} of `{block.name}` differs from that of `{first.name}`, but the opcode that step {taking} takes "
        f"chooses words from step {taking + lag} on"
    )
    hint = f"begin all instructions with the same {counted(taking + lag, 'step')}"
    context.findings.add("U225", message, place(block), place(first), help=hint)  # type: ignore[arg-type]


def check_dispatch(context: Context, rows: Places, prefix: int, late: int) -> None:
    """The opcode must be there when the shared first steps lead on by it, after ``prefix`` steps; ``late`` clocks
    before the word that it leads to."""
    blocks = context.blocks
    shared = {(blocks.first.name, step): rows.get((blocks.fetch, step), []) for step in range(prefix)}
    taking, ready = ready_step(context, blocks.first, shared)
    missing = ready + late - prefix
    if taking >= 0 and missing > 0:
        step = blocks.first.steps[taking]
        message = f"the opcode that step {taking} of `{blocks.fetch}` takes comes too late"
        message += f" to lead on after {counted(prefix, 'step')}"
        more = "one step" if missing == 1 else f"{missing} steps"
        context.findings.add("U225", message, step.position, help=f"take it {more} earlier, or add {more} to the end")
