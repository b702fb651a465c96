"""Programs: assembled for a machine, and put into the bytes of its chips by the wiring of their pins."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from latchwork.analysis.spaces import Region, SpaceMap, images_for, map_space
from latchwork.analysis.wiring import Wiring
from latchwork.languages.assembly.assemble import assemble_file
from latchwork.languages.assembly.program import Program
from latchwork.languages.assembly.target import target_of
from latchwork.model import Model
from latchwork.netlist import ChipId
from latchwork.netlist.queries import chip_name
from latchwork.problems import Label, LatchworkError, Problem


def assemble_program(model: Model, path: Path) -> Program:
    """The program in a file, with the contents of the machine's ROMs. Raises LatchworkError with every problem."""
    program = assemble_file(program_file(model, path), target_of(model))
    return replace(program, contents=program_contents(model, program))


def program_file(model: Model, path: Path) -> Path:
    """Where a program is: as its path says from here, else from the machine's folder."""
    there = model.folder / path
    return there if there.is_file() and not path.exists() else path


def program_contents(model: Model, program: Program) -> dict[ChipId, bytes]:
    """The bytes of each ROM that the program has words for, whole, in the order of the chip's own address pins.

    What the program leaves out is 0xFF. Raises LatchworkError where words fall on RAM, on no memory, or on chips whose
    wiring leaves open where they answer.
    """
    wiring = Wiring(model.netlist)
    placed = []
    for space in model.statements.spaces:
        words = program.stored.get(space.name)
        if words:
            found = map_space(model.netlist, space, wiring)
            problems = [*found.problems, *_misplaced(model, program, found)]
            if problems:
                raise LatchworkError(problems)
            placed.append((space.name, found.regions, words))
    return images_for(placed)


def _misplaced(model: Model, program: Program, found: SpaceMap) -> Iterator[Problem]:
    """The first word that falls on no memory, and the first on each chip that forgets."""
    space = found.space
    words = program.stored[space.name]
    whole = (1 << len(space.data)) - 1
    if found.problems:
        return
    nowhere = [address for address in words if found.covered(address) != whole]
    if nowhere:
        message = f"no memory answers at ${nowhere[0]:x} of `{space.name}`"
        lost = f"{len(nowhere)} words" if len(nowhere) > 1 else "this word"
        help = f"{lost} of the program would be lost; look at `m.section`"
        yield Problem("A172", message, _labels(program, space.name, nowhere[0]), help)
    for region in found.regions:
        if not region.keeps:
            yield from _forgotten(model, program, space.name, region)


def _forgotten(model: Model, program: Program, space: str, region: Region) -> Iterator[Problem]:
    address = next((a for a in program.stored[space] if region.start <= a < region.end), None)
    if address is not None:
        message = f"a word at ${address:x} of `{space}`, where {chip_name(model.netlist, region.chip)} forgets it"
        help = "reserve the place with `.reserve`, and let the program fill it"
        yield Problem("A171", message, _labels(program, space, address), help)


def _labels(program: Program, space: str, address: int) -> tuple[Label, ...]:
    position = program.position_at(*program.run_place(space, address))
    return (Label(position),) if position else ()
