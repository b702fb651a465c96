"""Whether the chips were burned with the program that a run is given for its labels."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from latchwork.analysis.rom_contents import rom_bytes
from latchwork.analysis.spaces import map_space
from latchwork.base.position import Position
from latchwork.languages.assembly.program import Program
from latchwork.model import Model
from latchwork.netlist import ChipId
from latchwork.netlist.queries import chip_name
from latchwork.problems import Label, Problem, Severity
from latchwork.problems.terminal import shown_file


def differences(model: Model, program: Program, burned: Mapping[ChipId, bytes], folder: Path) -> Iterator[Problem]:
    """A warning for each chip of the program whose burned bytes are others than those that the program has now.

    ``model`` has the program's contents; ``burned``: the bytes from the image files in ``folder``.
    """
    wanted = rom_bytes(model)
    for chip in sorted(program.contents.keys() & burned.keys()):
        pairs = enumerate(zip(burned[chip], wanted[chip], strict=True))
        others = [(at, held, given) for at, (held, given) in pairs if held != given]
        if others:
            yield _differs(model, program, chip, folder, others)


def _differs(model: Model, program: Program, chip: ChipId, folder: Path, others: list[tuple[int, int, int]]) -> Problem:
    at, held, given = others[0]
    name, source = chip_name(model.netlist, chip), Path(program.source).name
    message = f"byte {at:X} of {name} is {held:02X} in its image, {source} gives {given:02X}"
    message += f", the first of {len(others)} bytes that differ" if len(others) > 1 else ""
    places = [Label(Position(str(folder)), "the images that run")]
    line = _line_of(model, program, chip, at)
    if line:
        places.append(Label(line, f"gives {given:02X}"))
    anew = f"`latchwork images --program {shown_file(program.source)} --out {folder}`"
    hint = f"the machine runs what the images hold; {anew} writes them anew"
    return Problem("R108", message, tuple(places), hint, Severity.WARNING)


def _line_of(model: Model, program: Program, chip: ChipId, cell: int) -> Position | None:
    """The line of the program that makes the word in a cell of a chip; None where it has none there."""
    for space in model.statements.spaces:
        if chip in space.chips and program.stored.get(space.name):
            for region in map_space(model.netlist, space).regions:
                if region.chip == chip and cell in region.cells:
                    place = program.run_place(space.name, region.start + region.cells.index(cell))
                    return program.position_at(*place)
    return None
