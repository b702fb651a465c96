"""What the microprogram leaves free: lines, opcodes, steps, rows of the store."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product

from latchwork.analysis.control_words import ControlWords, used_rows
from latchwork.analysis.levels import Lanes
from latchwork.analysis.wiring import Wiring
from latchwork.model import ControlProgram, Instruction, MicroprogramBinding, Model
from latchwork.netlist import Line
from latchwork.reports.spare import SpareOpcodes, SpareRows, SpareSteps

MOST_BITS = 16  # of an opcode that is listed


def idle_lines(model: Model) -> Iterator[str]:
    """Control lines that no row of the microprogram can make active; none is named without a microprogram."""
    if model.control is None:
        return
    wiring = Wiring(model.netlist)
    words = ControlWords(model, wiring)
    for line in model.netlist.lines:
        if not _is_ever_active(wiring, words, line):
            yield line.name


def _is_ever_active(wiring: Wiring, words: ControlWords, line: Line) -> bool:
    scout = Lanes(wiring, 1, words.unknown)
    scout.net(line.net)
    situations = [item for item in words.situations(scout.met) if item.rows]
    level = Lanes(wiring, len(situations), words.given(situations)).net(line.net)
    return bool(level.one if line.active else level.zero)


def spare_opcodes(model: Model) -> SpareOpcodes | None:
    """Opcodes that no instruction has."""
    binding, control = model.statements.microprogram, model.control
    if control is None or binding is None or not 0 < len(binding.opcode) <= MOST_BITS:
        return None
    used = _instruction_opcodes(control, len(binding.opcode))
    free = [opcode for opcode in range(1 << len(binding.opcode)) if opcode not in used]
    return SpareOpcodes(1 << len(binding.opcode), len(free), tuple(_runs(free)))


def _instruction_opcodes(control: ControlProgram, bits: int) -> set[int]:
    """Opcodes of instructions; where their first words are not just an opcode, all that run some block."""
    words = [sum(piece.width for piece in item.code[0]) for item in control.instructions if item.code]
    if any(width != bits for width in words) or not words:
        return {opcode for opcode, _ in control.opcodes}
    return {opcode for item in control.instructions if item.code for opcode in _first_words(item)}


def _first_words(instruction: Instruction) -> Iterator[int]:
    """Every first word that an instruction can have."""
    choices = [
        range(1 << piece.width) if piece.operand else (piece.value,) for piece in instruction.code[0]
    ]  # highest bits first
    for choice in product(*choices):
        word = 0
        for piece, value in zip(instruction.code[0], choice, strict=True):
            word = word << piece.width | value
        yield word


def _runs(numbers: Iterable[int]) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    for number in numbers:
        if found and number == found[-1][1] + 1:
            found[-1] = (found[-1][0], number)
        else:
            found.append((number, number))
    return found


def spare_steps(model: Model) -> SpareSteps | None:
    """Room for steps, where the store is addressed by opcode, step and conditions."""
    binding, control = model.statements.microprogram, model.control
    if control is None or binding is None or control.form != "steps" or not used_rows(control):
        return None
    room = 1 << _step_bits(control, binding)
    used: dict[str, int] = {}
    for row in used_rows(control):
        used[row.block] = max(used.get(row.block, 0), row.step + 1)
    most = max(used.values())
    longest = tuple(block for block, steps in used.items() if steps == most)
    return SpareSteps(room, most, longest, sum(room - steps for steps in used.values()))


def _step_bits(control: ControlProgram, binding: MicroprogramBinding) -> int:
    """Address bits of the store that are neither opcode nor condition nor interrupt."""
    others = {*binding.opcode, binding.interrupt, *(net for _, net, _ in binding.conditions)}
    return len([net for net in control.address_nets if net not in others])


def spare_rows(model: Model) -> SpareRows | None:
    if model.control is None:
        return None
    every = 1 << len(model.control.address_nets)
    used = {address for row in used_rows(model.control) for address in row.addresses}
    return SpareRows(every, every - len(used))
