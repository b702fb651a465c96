"""Dunlin's control words put together by hand: which bit of which ROM does what, read off the drawing by a person.

Nothing here looks at the netlist. The images made from it are held against those worked out from the wiring.
"""

from __future__ import annotations

from latchwork.languages.microprogram.flat import Branch, Field, FlatProgram, Setting

# ROM and data bit of each line that has a bit of its own, and whether the bit is low to do its work.
BITS = {
    "pc_advance": (0, 6, 0),
    "last": (0, 7, 1),
    "f0": (1, 0, 0), "f1": (1, 1, 0), "f2": (1, 2, 0), "f3": (1, 3, 0),
    "mode": (1, 4, 0), "carry_one": (1, 5, 0), "carry_use": (1, 6, 0), "flags_take": (1, 7, 0),
    "carry_from0": (2, 4, 0), "carry_from1": (2, 5, 0), "operand_index": (2, 6, 0), "address_indexed": (2, 7, 0),
}  # fmt: skip
SHOW = ("", "program_show", "ram_show", "operand_show", "half_show", "keys_show")  # bits 0 to 2 of ROM 0
TAKE = ("", "acc_take", "index_take", "lamps_take", "ram_write", "ir_take", "pc_take", "halt")  # bits 3 to 5
TEST = {"always": 0, "carry": 1, "zero": 2, "negative": 3, "pressed": 4}  # bits 1 to 3 of ROM 2, bit 0 inverts
LOW_WHEN_TRUE = {"zero"}
ROWS = 1 << 11


def images(program: FlatProgram) -> list[bytearray]:
    """The three control ROMs, 2,048 bytes each."""
    fields = {field.name: field for field in program.fields}
    roms = [bytearray(ROWS) for _ in range(3)]
    for opcode in range(256):
        block = next(
            (b for b in program.blocks if b.kind == "instruction" and opcode & b.opcode[0] == b.opcode[1]),
            next(b for b in program.blocks if b.kind == "illegal"),
        )
        for step in range(8):
            branches = block.steps[step].branches if step < len(block.steps) else (Branch((), ()),)
            for number, byte in enumerate(_word(branches, fields)):
                roms[number][_address(number, opcode, step)] = byte
    return roms


def _address(rom: int, opcode: int, step: int) -> int:
    """Opcode below on the first ROM, steps below on the second, everything mirrored on the third."""
    if rom == 0:
        return step << 8 | opcode
    straight = opcode << 3 | step
    return straight if rom == 1 else int(f"{straight:011b}"[::-1], 2)


def _word(branches: tuple[Branch, ...], fields: dict[str, Field]) -> list[int]:
    word = [0x80, 0, 0]  # `last` rests high
    taken = {name for branch in branches for name in _lines(branch.settings, fields, word)}
    for name in taken:
        if name in BITS:
            rom, bit, low = BITS[name]
            word[rom] = word[rom] & ~(1 << bit) if low else word[rom] | 1 << bit
        elif name in SHOW:
            word[0] |= SHOW.index(name)
        else:
            word[0] |= TAKE.index(name) << 3
    if "pc_take" in taken:
        word[2] |= _test(next(b for b in branches if any(s.name == "pc_take" for s in b.settings)))
    return word


def _lines(settings: tuple[Setting, ...], fields: dict[str, Field], word: list[int]) -> list[str]:
    names = []
    for setting in settings:
        if setting.name not in fields:
            names.append(setting.name)
            continue
        field = fields[setting.name]
        for line, level in zip(field.lines, dict(field.values)[setting.value], strict=True):
            names += [line] if level else []
    return names


def _test(branch: Branch) -> int:
    """The jump is let through where the chosen flag, inverted or not, is low."""
    condition, wanted = branch.conditions[0] if branch.conditions else ("always", 1)
    high = bool(wanted) != (condition in LOW_WHEN_TRUE)
    return TEST[condition] << 1 | int(high)
