"""``spare``: everything free in one report."""

from __future__ import annotations

from latchwork.model import Model
from latchwork.reports.spare import SpareReport
from latchwork.tools.spare.control import idle_lines, spare_opcodes, spare_rows, spare_steps
from latchwork.tools.spare.pins import spare_decoder_outputs, spare_gates, spare_word_bits


def spare(model: Model) -> SpareReport:
    """What a machine has left over."""
    return SpareReport(
        machine=model.netlist.name,
        gates=tuple(spare_gates(model.netlist)),
        lines=tuple(idle_lines(model)),
        decoders=tuple(spare_decoder_outputs(model.netlist)),
        word_bits=tuple(spare_word_bits(model)),
        opcodes=spare_opcodes(model),
        steps=spare_steps(model),
        rows=spare_rows(model),
    )
