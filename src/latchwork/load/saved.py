"""Saved models: one JSON file that holds the netlist's text, what the builder stated, the control program and the
bytes of the ROMs. Opening one runs nothing of anybody's."""

from __future__ import annotations

import base64
from collections.abc import Iterator
from pathlib import Path

import msgspec

from latchwork.base.position import Position
from latchwork.model import ControlProgram, Model, Statements
from latchwork.netlist import ChipId, NetId, Netlist
from latchwork.netlist.text import parsed, written
from latchwork.problems import Label, LatchworkError, Problem

FORMAT = 1


class _Numbered(msgspec.Struct):
    """What a saved model of any format has."""

    latchwork_model: int


class _Saved(msgspec.Struct, forbid_unknown_fields=True):
    """``contents``: reference of the chip -> base64 of its bytes."""

    latchwork_model: int
    netlist: str
    statements: Statements
    control: ControlProgram | None
    contents: dict[str, str]
    sources: tuple[str, ...]


def saved(model: Model) -> bytes:
    """The file of a model. Same model, same bytes."""
    chips = model.netlist.chips
    contents = {
        chips[chip].reference: base64.b64encode(model.contents[chip]).decode() for chip in sorted(model.contents)
    }
    record = _Saved(FORMAT, written(model.netlist), model.statements, model.control, contents, model.sources)
    return msgspec.json.format(msgspec.json.encode(record), indent=1) + b"\n"


def open_saved(path: Path) -> Model:
    """The model in a file. Raises LatchworkError where it can't be read, or is none."""
    if path.exists() and not path.is_file():
        what = "a folder" if path.is_dir() else "no file"
        raise _unusable(path, f"it can't be read: it is {what}", "name a file that `latchwork save` wrote")
    try:
        return _opened(path, path.read_bytes())
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise _unusable(path, f"it can't be read: {reason}", "name a file that `latchwork save` wrote") from error
    except (msgspec.DecodeError, ValueError, KeyError, IndexError, RecursionError) as error:
        raise _unusable(path, " ".join(str(error).split())) from error


def _opened(path: Path, content: bytes) -> Model:
    number = msgspec.json.decode(content, type=_Numbered).latchwork_model
    if number != FORMAT:
        raise ValueError(f"its format is {number}, this version reads {FORMAT}")
    record = msgspec.json.decode(content, type=_Saved)
    netlist = parsed(record.netlist, str(path))
    _check_numbers(netlist, record.statements, record.control)
    contents = {
        netlist.chip_named[reference]: base64.b64decode(text, validate=True)
        for reference, text in record.contents.items()
    }
    return Model(path.parent, netlist, record.statements, record.control, contents, record.sources)


def _check_numbers(netlist: Netlist, statements: Statements, control: ControlProgram | None) -> None:
    """Every net and chip that is spoken of is there. Raises ValueError."""
    nets, chips = set(_nets(statements)), set(_chips(statements))
    if control:
        nets |= {*control.address_nets, *control.word_nets}
        chips |= {chip for chip, _ in control.contents}
    if not nets <= set(range(-1, len(netlist.nets))) or not chips <= set(range(len(netlist.chips))):
        raise ValueError("it speaks of nets or chips that the netlist does not have")


def _nets(statements: Statements) -> Iterator[NetId]:
    binding = statements.microprogram
    if binding:
        yield from (*binding.opcode, *binding.step, binding.interrupt, *(net for _, net, _ in binding.conditions))
    for space in statements.spaces:
        yield from (*space.address, *space.data, *(net for net, _ in space.when))
    for table in statements.tables:
        yield from (net for _, nets in (*table.inputs, *table.outputs) for net in nets)
    for port in statements.ports:
        yield from (*port.nets, port.take)
    for device in statements.devices:
        yield from (net for _, nets in device.pins for net in nets)
    yield from (halt.net for halt in statements.halts)
    yield from (net for _, nets in statements.registers for net in nets)


def _chips(statements: Statements) -> Iterator[ChipId]:
    if statements.microprogram:
        yield from (*statements.microprogram.store, *statements.microprogram.decode)
    for space in statements.spaces:
        yield from space.chips
    yield from (table.chip for table in statements.tables)
    yield from (image.chip for image in statements.images)
    for shared in statements.shared:
        yield from shared.chips
    for copied in statements.copied:
        yield from (*copied.sources, *copied.targets)


def _unusable(path: Path, why: str, hint: str = 'save the machine again with "latchwork save"') -> LatchworkError:
    return LatchworkError(Problem("M110", f"this is not a saved model: {why}", (Label(Position(str(path))),), hint))
