"""The pipeline: machine.py is run and verified, its microprogram read and fitted to the wiring, its ROMs filled."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from latchwork.analysis.rom_contents import kept_memory, rom_bytes
from latchwork.load.burned import IMAGES, SAVED, burned_before
from latchwork.load.machine import LoadedMachine, read_machine
from latchwork.model import ControlProgram, LoadedImage, Model
from latchwork.netlist import ChipId
from latchwork.netlist.queries import chip_name
from latchwork.problems import Label, LatchworkError, Problem

if TYPE_CHECKING:
    from latchwork.languages.microprogram.names import Names


def with_program(model: Model, path: str | Path) -> Model:
    """The model with an assembled program in its ROMs. Raises LatchworkError."""
    from latchwork.load.program import assemble_program

    return checked(model.with_contents(dict(assemble_program(model, Path(path)).contents)))


def checked(model: Model) -> Model:
    """The model, once it is sure that its ROMs can hold what they are to hold. Raises LatchworkError."""
    rom_bytes(model)
    _refuse_forgetful(model)
    return model


def _refuse_forgetful(model: Model) -> None:
    """A control store in RAM has to be filled by something."""
    binding = model.statements.microprogram
    filled = {target for copied in model.statements.copied for target in copied.targets}
    if binding is None:
        return
    for chip in (*binding.store, *binding.decode):
        if kept_memory(model.netlist, chip) is None and chip not in filled:
            name = chip_name(model.netlist, chip)
            message = f"{name} holds the microprogram and forgets it without power"
            hint = "take a ROM, or state from which one the machine's hardware fills it: m.copied(rom, ram)"
            raise LatchworkError(Problem("M111", message, (Label(binding.position),), hint))


def load_model(path: str | Path, burned: Path | None = None) -> Model:
    """The model of a machine folder, a machine.py or a saved model, which is opened without running anything.

    ``burned``: the folder of the images that the ROMs hold; the machine's own folder of images if left out.
    Raises LatchworkError with every problem found.
    """
    path = Path(path)
    if path.suffix == SAVED:
        from latchwork.load.saved import open_saved

        return open_saved(path)
    machine = read_machine(path)
    control, sources = _control(machine, burned or machine.folder / IMAGES)
    contents = {**machine.contents, **_images(machine), **dict(control.contents if control else ())}
    sources = (*machine.sources, *sources)
    return checked(Model(machine.folder, machine.netlist, machine.statements, control, contents, sources))


def _control(machine: LoadedMachine, burned: Path) -> tuple[ControlProgram | None, tuple[str, ...]]:
    """The microprogram in the wiring's bits, and the files it was written in; None in a machine without one."""
    binding = machine.statements.microprogram
    if binding is None:
        return None, ()
    from latchwork.languages.microprogram.lowering import lower
    from latchwork.languages.microprogram.parse import parse_microprogram

    source = machine.folder / binding.source
    if not source.is_file():
        message = f'the microprogram "{binding.source}" is not there'
        hint = f"write it to {source}, or name another file in m.microprogram"
        raise LatchworkError(Problem("M113", message, (Label(binding.position),), hint))
    program = parse_microprogram(source, names_of(machine))
    return lower(program, machine.netlist, binding, burned_before(burned, machine.netlist)), program.sources


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
    nets |= {name for name, _, _ in conditions}
    return Names(
        nets=frozenset(nets),
        lines=frozenset(line.name for line in netlist.lines),
        conditions=frozenset(name for name, _, _ in conditions),
    )
