"""Collecting what the wiring cannot tell: bindings, spaces, sections, ports."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from latchwork import netlist
from latchwork.base.position import Position
from latchwork.design.draft import Draft, DraftChip
from latchwork.design.handle import Handle, chip_of, draft_of
from latchwork.design.mistakes import kind_of, mistake, near
from latchwork.design.place import here
from latchwork.design.signals import Net
from latchwork.design.values import level_of, name_of, net_of, nets_of, number_of, text_of
from latchwork.model import (
    AttachedDevice,
    Copied,
    Halt,
    LoadedImage,
    MicroprogramBinding,
    Port,
    Section,
    SharedImage,
    Space,
    Statements,
    Table,
)

_WORDS = (4, 8, 16, 24, 32)


@dataclass(eq=False)
class Stated:
    """Statements so far, as the model will hold them."""

    microprogram: MicroprogramBinding | None = None
    spaces: dict[str, Space] = field(default_factory=dict)
    sections: dict[str, Section] = field(default_factory=dict)
    tables: list[Table] = field(default_factory=list)
    images: list[LoadedImage] = field(default_factory=list)
    shared: list[SharedImage] = field(default_factory=list)
    copied: list[Copied] = field(default_factory=list)
    devices: list[AttachedDevice] = field(default_factory=list)
    ports: dict[str, Port] = field(default_factory=dict)
    halts: list[Halt] = field(default_factory=list)
    registers: dict[str, tuple[int, ...]] = field(default_factory=dict)
    contents: dict[int, bytes] = field(default_factory=dict)
    places: dict[str, Position] = field(default_factory=dict)


def frozen_statements(draft: Draft, stated: Stated) -> Statements:
    """The statements, once all lines are known."""
    for space in stated.spaces.values():
        _refuse_unknown_lines(draft, space)
        _refuse_contradictions(draft, space)
    return Statements(
        microprogram=stated.microprogram,
        spaces=tuple(stated.spaces.values()),
        sections=tuple(stated.sections.values()),
        tables=tuple(stated.tables),
        images=tuple(stated.images),
        ports=tuple(stated.ports.values()),
        halts=tuple(stated.halts),
        registers=tuple(stated.registers.items()),
        shared=tuple(stated.shared),
        copied=tuple(stated.copied),
        devices=tuple(stated.devices),
    )


def assume(draft: Draft, net: object, level: object) -> None:
    """State that a net is constant while the machine runs."""
    if isinstance(net, str):
        net = _net_named(draft, net)
    index = net_of(draft, net, "what is assumed").index
    if index in draft.assumptions:
        earlier = draft.assumptions[index].position
        message = f'the level of "{draft.nets[index].name}" is assumed already, in line {earlier.line}'
        raise mistake("M021", message, earlier=earlier, earlier_text="assumed here first")
    value = level_of(level, f'the level assumed for "{draft.nets[index].name}"')
    draft.assumptions[index] = netlist.Assumption(index, value, here())


def _net_named(draft: Draft, name: str) -> Net:
    index = draft.net_index(name)
    if index is None:
        raise mistake("M012", f'there is no net "{name}" above this line', help=near(name, draft.speakable()))
    return Net(draft, index)


def chip_given(draft: Draft, value: object, what: str) -> DraftChip:
    """The chip behind a handle of this machine."""
    if not isinstance(value, Handle):
        raise mistake("M007", f"{what} is a chip that m.chip(...) gave, not {kind_of(value)}")
    if draft_of(value) is not draft:
        raise mistake("M008", f'{value.described} belongs to another machine, "{draft_of(value).name}"')
    return chip_of(value)


def memory_given(draft: Draft, value: object, what: str) -> DraftChip:
    """The same, with a memory inside."""
    chip = chip_given(draft, value, what)
    if not chip.part.behaviour.memories:
        raise mistake("M016", f"{what} holds bytes, and {chip.described} ({chip.part.title}) has no memory")
    return chip


def memories_given(draft: Draft, values: object, what: str) -> tuple[int, ...]:
    if isinstance(values, Handle):
        values = [values]
    if isinstance(values, str) or not isinstance(values, Iterable):
        raise mistake("M007", f"{what} is a list of chips, not {kind_of(values)}")
    return tuple(memory_given(draft, value, f"each of {what}").index for value in values)


def bind_microprogram(stated: Stated, binding: MicroprogramBinding) -> None:
    if stated.microprogram:
        earlier = stated.microprogram.position
        message = f"a microprogram is bound already, in line {earlier.line}; a machine has one"
        raise mistake("M021", message, earlier=earlier, earlier_text="bound here first")
    stated.microprogram = binding


def conditions_of(draft: Draft, conditions: object) -> tuple[tuple[str, int, int], ...]:
    """Flags by name: {"carry": net}, {"zero": (zero_n, LOW)}, or nets that keep their own names."""
    if isinstance(conditions, Mapping):
        return tuple(_condition(draft, name, value) for name, value in conditions.items())
    nets = nets_of(draft, conditions, "conditions")
    return tuple((net.name, net.index, 1) for net in nets)


def _condition(draft: Draft, name: object, value: object) -> tuple[str, int, int]:
    given = name_of(name, "a condition")
    net, level = value if isinstance(value, tuple) and len(value) == 2 else (value, 1)
    what = f'the condition "{given}"'
    return given, net_of(draft, net, what).index, level_of(level, f"the level at which {what} is true")


def _refuse_unknown_lines(draft: Draft, space: Space) -> None:
    for word, name in (("show", space.show), ("write", space.write)):
        if name and name not in draft.lines:
            message = f'{word} of the space "{space.name}" is a control line, and there is no line "{name}"'
            raise mistake("M012", message, help=near(name, draft.lines), at=space.position)


def settings_of(draft: Draft, space: str, when: object) -> tuple[tuple[int, int], ...]:
    """Bank settings: {net: level}."""
    if when is None:
        return ()
    what = f'when of the space "{space}"'
    if not isinstance(when, Mapping):
        raise mistake("M007", f"{what} is written {{net: level}}, not as {kind_of(when)}")
    return tuple(
        (net_of(draft, net, f"each of {what}").index, level_of(level, f"a level in {what}"))
        for net, level in when.items()
    )


def _refuse_contradictions(draft: Draft, space: Space) -> None:
    for net, level in space.when:
        assumed = draft.assumptions.get(net)
        if assumed and assumed.level != level:
            message = f'the space "{space.name}" is seen when "{draft.nets[net].name}" is {level}, and that net is'
            message += f" assumed to be {assumed.level} all the time"
            raise mistake("M021", message, at=space.position, earlier=assumed.position, earlier_text="assumed here",
                          help="leave out the m.assume; each space states its own setting")  # fmt: skip


def add_space(stated: Stated, space: Space) -> None:
    given = space.name
    claim(stated, f'the space "{given}"')
    if len(space.data) not in _WORDS:
        hint = "a word has 4, 8, 16, 24 or 32 bits"
        raise mistake("M022", f'the data of the space "{given}" are {len(space.data)} bits wide', help=hint)
    if len(space.address) > 32:
        raise mistake("M022", f'the space "{given}" has {len(space.address)} address bits', help="32 is the most")
    if any(net in space.address for net, _ in space.when):
        hint = "a bank setting is on a net besides the address"
        raise mistake("M022", f'a net is an address bit of the space "{given}" and is in its when too', help=hint)
    stated.spaces[given] = space


def claim(stated: Stated, what: str, verb: str = "is there") -> None:
    """Refuse a second statement of the same thing."""
    if what in stated.places:
        earlier = stated.places[what]
        message = f"{what} {verb} already, in line {earlier.line}"
        raise mistake("M006", message, earlier=earlier, earlier_text="named here first")
    stated.places[what] = here()


class Place(NamedTuple):
    """What is written about a section besides its name."""

    space: object
    start: object
    size: object
    load_space: object = ""
    load_start: object = None


def add_section(stated: Stated, name: object, place: Place) -> None:
    """A place for text, inside of its space and clear of its other sections."""
    given = name_of(name, "a section")
    claim(stated, f'the section "{given}"')
    space = _space_named(stated, place.space, "the space of a section")
    start, size = number_of(place.start, "the start of a section"), number_of(place.size, "the size of a section", 1)
    section = _with_load(stated, Section(given, space.name, start, size, here()), place)
    for occupied in _occupied(section):
        _refuse_outside(section, occupied, stated.spaces[occupied.space])
        for other in stated.sections.values():
            for taken in _occupied(other):
                _refuse_overlap((section, occupied), (other, taken))
    stated.sections[given] = section


def _space_named(stated: Stated, name: object, what: str) -> Space:
    place = text_of(name, what)
    if place not in stated.spaces:
        raise mistake("M012", f'there is no space "{place}" above this line', help=near(place, stated.spaces))
    return stated.spaces[place]


def _with_load(stated: Stated, section: Section, place: Place) -> Section:
    """The section with the place where its words are stored."""
    what = f'the section "{section.name}"'
    if (place.load_space == "") != (place.load_start is None):
        there, missing = ("load_start", "load_space") if place.load_space == "" else ("load_space", "load_start")
        raise mistake("M013", f"{what} has a {there} and no {missing}", help="write both, or none of them")
    if place.load_start is None:
        return section
    load = _space_named(stated, place.load_space, f"load_space of {what}")
    here_bits, there_bits = len(stated.spaces[section.space].data), len(load.data)
    if here_bits != there_bits:
        message = f'{what} runs in words of {here_bits} bits and is stored in "{load.name}" in words of {there_bits}'
        raise mistake("M013", message, help="both spaces need words of one width")
    start = number_of(place.load_start, f"load_start of {what}")
    return replace(section, load_space=load.name, load_start=start)


class _Range(NamedTuple):
    """Addresses that a section takes; ``word``: what they are to it."""

    word: str
    space: str
    start: int
    end: int


def _occupied(section: Section) -> tuple[_Range, ...]:
    runs = _Range("", section.space, section.start, section.start + section.size)
    if not section.load_space:
        return (runs,)
    return runs, _Range("stored ", section.load_space, section.load_start, section.load_start + section.size)


def _refuse_outside(section: Section, taken: _Range, space: Space) -> None:
    limit = 1 << len(space.address)
    if taken.end > limit:
        where = "as it is stored " if taken.word else ""
        message = f'the section "{section.name}" {where}ends at {taken.end - 1:#x}, the space "{space.name}" at'
        message += f" {limit - 1:#x}"
        raise mistake("M013", message, earlier=space.position, earlier_text=f"{len(space.address)} address bits")


def _refuse_overlap(one: tuple[Section, _Range], other: tuple[Section, _Range]) -> None:
    (section, mine), (before, theirs) = one, other
    low, high = max(mine.start, theirs.start), min(mine.end, theirs.end)
    if mine.space == theirs.space and low < high:
        shared = f"{low:#x}" if high - low == 1 else f"{low:#x} to {high - 1:#x}"
        names = f'"{before.name}"{" as stored" if theirs.word else ""} and "{section.name}"'
        message = f"the sections {names}{' as stored' if mine.word else ''} both hold {shared}"
        raise mistake("M013", message, earlier=before.position, earlier_text=f'"{before.name}" is placed here')


def add_port(draft: Draft, stated: Stated, name: object, nets: object, *, direction: str, take: object = None) -> None:
    given = name_of(name, "a port")
    claim(stated, f'the port "{given}"')
    joined = tuple(net.index for net in nets_of(draft, nets, f'the port "{given}"'))
    edge = -1 if take is None else net_of(draft, take, f'the take of the port "{given}"').index
    stated.ports[given] = Port(given, joined, direction, edge, here())


def add_register(draft: Draft, stated: Stated, name: object, nets: object) -> None:
    given = name_of(name, "a register")
    claim(stated, f'the register "{given}"')
    stated.registers[given] = tuple(net.index for net in nets_of(draft, nets, f'the register "{given}"'))


def claim_contents(stated: Stated, chip: DraftChip) -> None:
    """A ROM gets its bytes from one statement."""
    claim(stated, f"what {chip.described} holds", "is stated")
