"""Table ROMs: calling the builder's function for every input, and laying its results out as the chip is wired."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from latchwork.design.draft import Draft, DraftChip
from latchwork.design.mistakes import kind_of, listed, mistake
from latchwork.design.place import here
from latchwork.design.signals import Level
from latchwork.design.statements import Stated, claim_contents, memory_given
from latchwork.design.values import name_of, nets_of
from latchwork.model import Table
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import MemoryPins, memory_pins

Named = tuple[tuple[str, tuple[int, ...]], ...]


@dataclass(frozen=True)
class _Wiring:
    """Where each address bit of the chip comes from, and where each data bit goes."""

    address: tuple[tuple[int, int] | int | None, ...]  # (input, bit), a fixed level, or None: either level
    data: tuple[tuple[int, int] | None, ...]  # (output, bit), or None: nobody looks


class Asked(NamedTuple):
    """What is written about a table besides its chip."""

    function: object
    inputs: object
    outputs: object
    any_level: object


def add_table(draft: Draft, stated: Stated, given: object, asked: Asked) -> None:
    """Work out the bytes of a table ROM and keep them."""
    chip = memory_given(draft, given, "the chip of a table")
    if not callable(asked.function):
        raise mistake("M007", f"a table is filled by a function, not by {kind_of(asked.function)}")
    named_inputs, named_outputs = _named(draft, asked.inputs, "inputs"), _named(draft, asked.outputs, "outputs")
    free = {net.index for net in nets_of(draft, asked.any_level, "any_level")}
    wiring = _wiring(draft, chip, named_inputs, named_outputs, free)
    claim_contents(stated, chip)
    results = _results(asked.function, named_inputs, named_outputs)
    stated.contents[chip.index] = _bytes(wiring, named_inputs, results)
    stated.tables.append(Table(chip.index, named_inputs, named_outputs, here()))


def _named(draft: Draft, groups: object, what: str) -> Named:
    if not isinstance(groups, Mapping) or not groups:
        raise mistake("M007", f'{what} of a table are nets by name, such as {{"a": bus}}, not {kind_of(groups)}')
    return tuple(
        (name_of(name, f"one of the {what}"), tuple(net.index for net in nets_of(draft, nets, f'"{name}"')))
        for name, nets in groups.items()
    )


def _wiring(draft: Draft, chip: DraftChip, inputs: Named, outputs: Named, free: set[int]) -> _Wiring:
    pins = memory_pins(chip.part)
    if pins is None:
        raise mistake("M016", f"the memory of {chip.described} does not stand directly at its pins")
    return _Wiring(_address(draft, chip, pins, inputs, free), _data(draft, chip, pins, outputs))


def _address(
    draft: Draft, chip: DraftChip, pins: MemoryPins, inputs: Named, free: set[int]
) -> tuple[tuple[int, int] | int | None, ...]:
    sources = _bits(inputs)
    nets = [chip.pins[pin] for pin in pins.address]
    _refuse_elsewhere(draft, nets, sources, inputs, f"an address pin of {chip.described}")
    return tuple(_source(draft, chip, pin, sources, free) for pin in pins.address)


def _source(
    draft: Draft, chip: DraftChip, pin: int, sources: dict[int, tuple[int, int]], free: set[int]
) -> tuple[int, int] | int | None:
    net = chip.pins[pin]
    if net in sources:
        return sources[net]
    if net in (Level.LOW, Level.HIGH):
        return net
    if net in free:
        return None
    name = chip.part.pins[pin].name
    if net == NO_NET:
        raise mistake("M015", f"{chip.described} {name} is open; a table needs each address pin joined",
                      help="tie it to HIGH or LOW, or join it to one of the inputs")  # fmt: skip
    message = f'{chip.described} {name} is on the net "{draft.nets[net].name}", which is none of the inputs'
    hint = "name it among the inputs, or in any_level where the function does not depend on it"
    raise mistake("M015", message, help=hint)


def _data(draft: Draft, chip: DraftChip, pins: MemoryPins, outputs: Named) -> tuple[tuple[int, int] | None, ...]:
    targets = _bits(outputs)
    nets = [chip.pins[pin] for pin in pins.data]
    _refuse_elsewhere(draft, nets, targets, outputs, f"a data pin of {chip.described}")
    return tuple(targets.get(net) for net in nets)


def _bits(groups: Named) -> dict[int, tuple[int, int]]:
    """Net -> (group, bit)."""
    return {net: (group, bit) for group, (_, nets) in enumerate(groups) for bit, net in enumerate(nets)}


def _refuse_elsewhere(
    draft: Draft, nets: list[int], bits: dict[int, tuple[int, int]], groups: Named, where: str
) -> None:
    for net, (group, _) in bits.items():
        if net not in nets:
            message = f'"{draft.nets[net].name}" of "{groups[group][0]}" is not on {where}'
            raise mistake("M015", message, help=f"those are on {listed(_names(draft, nets))}")


def _names(draft: Draft, nets: list[int]) -> list[str]:
    return [draft.nets[net].name for net in nets if net not in (NO_NET, Level.LOW, Level.HIGH)]


def _results(function: Callable[..., object], inputs: Named, outputs: Named) -> dict[tuple[int, ...], tuple[int, ...]]:
    """What the function gives for every combination of its inputs."""
    ranges = [range(1 << len(nets)) for _, nets in inputs]
    return {values: _called(function, inputs, values, outputs) for values in itertools.product(*ranges)}


def _called(function: Callable[..., object], inputs: Named, values: tuple[int, ...], outputs: Named) -> tuple[int, ...]:
    arguments = {name: value for (name, _), value in zip(inputs, values, strict=True)}
    call = listed(f"{name} = {value}" for name, value in arguments.items())
    try:
        given = function(**arguments)
    except Exception as error:
        kind = type(error).__name__
        raise mistake("M014", f"the function of the table failed for {call}: {kind}: {error}") from error
    return tuple(
        _fitting(value, name, len(nets), call)
        for value, (name, nets) in zip(_parts(given, outputs, call), outputs, strict=True)
    )


def _parts(given: object, outputs: Named, call: str) -> tuple[object, ...]:
    """The outputs in their order, from a number, a tuple or a dictionary."""
    names = [name for name, _ in outputs]
    if isinstance(given, Mapping) and set(given) == set(names):
        return tuple(given[name] for name in names)
    if isinstance(given, tuple) and len(given) == len(names):
        return given
    if len(names) == 1 and not isinstance(given, (Mapping, tuple)):
        return (given,)
    raise mistake("M014", f"the function of the table gave {kind_of(given)} for {call}; it has to give {listed(names)}")


def _fitting(value: object, name: str, width: int, call: str) -> int:
    if not isinstance(value, int):
        raise mistake("M014", f"the function of the table gave {kind_of(value)} as {name} for {call}",
                      help="give a whole number")  # fmt: skip
    if not 0 <= value < 1 << width:
        raise mistake("M014", f"the function of the table gave {name} = {int(value)} for {call}; {name} has {width} "
                      f"bit{'s' * (width != 1)}, 0 to {(1 << width) - 1}")  # fmt: skip
    return int(value)


def _bytes(wiring: _Wiring, inputs: Named, results: dict[tuple[int, ...], tuple[int, ...]]) -> bytes:
    """The chip's words in the order of its own address pins; whole bytes each, lowest first, 1 where nobody looks."""
    size = (len(wiring.data) + 7) // 8
    words = []
    for address in range(1 << len(wiring.address)):
        values = _inputs_at(wiring, len(inputs), address)
        word = (1 << 8 * size) - 1 if values is None else _word(wiring, results[values], size)
        words.append(word.to_bytes(size, "little"))
    return b"".join(words)


def _inputs_at(wiring: _Wiring, count: int, address: int) -> tuple[int, ...] | None:
    """The inputs that reach an address; None where a tied pin keeps it from being reached."""
    values = [0] * count
    for pin, source in enumerate(wiring.address):
        level = address >> pin & 1
        if isinstance(source, tuple):
            values[source[0]] |= level << source[1]
        elif source is not None and source != level:
            return None
    return tuple(values)


def _word(wiring: _Wiring, outputs: tuple[int, ...], size: int) -> int:
    word = (1 << 8 * size) - 1
    for pin, target in enumerate(wiring.data):
        if target is not None and not outputs[target[0]] >> target[1] & 1:
            word &= ~(1 << pin)
    return word
