"""The pipeline: machine.py is run and verified, its microprogram read and fitted to the wiring, its ROMs filled."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from latchwork.analysis.rom_contents import kept_memory
from latchwork.load.machine import LoadedMachine, read_machine
from latchwork.model import ControlProgram, LoadedImage, Model
from latchwork.netlist import ChipId
from latchwork.problems import Label, LatchworkError, Problem

if TYPE_CHECKING:
    from latchwork.languages.microprogram.names import Names


def with_program(model: Model, path: Path) -> Model:
    """The model with an assembled program in its ROMs. Raises LatchworkError."""
    from latchwork.load.program import assemble_program

    return model.with_contents(assemble_program(model, path).contents)


SAVED = ".latchwork"
"""How the name of a saved model ends."""


def load_model(path: Path) -> Model:
    """The model of a machine folder, a machine.py or a saved model, which is opened without running anything.

    Raises LatchworkError with every problem found.
    """
    if path.suffix == SAVED:
        from latchwork.load.saved import open_saved

        return open_saved(path)
    machine = read_machine(path)
    control, sources = _control(machine)
    contents = {**machine.contents, **_images(machine), **dict(control.contents if control else ())}
    return Model(machine.folder, machine.netlist, machine.statements, control, contents, (*machine.sources, *sources))


def _control(machine: LoadedMachine) -> tuple[ControlProgram | None, tuple[str, ...]]:
    """The microprogram in the wiring's bits, and the files it was written in; None in a machine without one."""
    binding = machine.statements.microprogram
    if binding is None:
        return None, ()
    from latchwork.languages.microprogram.lowering import lower
    from latchwork.languages.microprogram.parse import parse_microprogram

    program = parse_microprogram(machine.folder / binding.source, names_of(machine))
    return lower(program, machine.netlist, binding), program.sources


def _images(machine: LoadedMachine) -> dict[ChipId, bytes]:
    return {image.chip: _image(machine, image) for image in machine.statements.images}


def _image(machine: LoadedMachine, image: LoadedImage) -> bytes:
    label = (Label(image.position),)
    try:
        content = (machine.folder / image.source).read_bytes()
    except OSError as error:
        message = f'the image "{image.source}" can\'t be read: {error.strerror or error}'
        raise LatchworkError(Problem("M108", message, label, "name a file of raw bytes")) from error
    memory = kept_memory(machine.netlist, image.chip)
    size = 1 << memory.address_width if memory else 0
    if len(content) > size:
        chip = machine.netlist.chips[image.chip].reference
        message = f'the image "{image.source}" has {len(content)} bytes, {chip} holds {size}'
        raise LatchworkError(Problem("M109", message, label, "only raw bytes are an image here, not a file of records"))
    return content


def names_of(machine: LoadedMachine) -> Names:
    """What a microprogram may speak of: nets, buses, registers, spaces; control lines; conditions."""
    from latchwork.languages.microprogram.names import Names

    netlist, stated = machine.netlist, machine.statements
    nets = {net.name for net in netlist.nets if net.declared} | {bus.name for bus in netlist.buses}
    nets |= {name for name, _ in stated.registers} | {space.name for space in stated.spaces}
    nets |= {port.name for port in stated.ports}
    conditions = stated.microprogram.conditions if stated.microprogram else ()
    return Names(
        nets=frozenset(nets),
        lines=frozenset(line.name for line in netlist.lines),
        conditions=frozenset(name for name, _, _ in conditions),
    )
