"""Collecting what the wiring cannot tell: bindings, spaces, sections, ports."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from latchwork import netlist
from latchwork.base.position import Position
from latchwork.design.draft import Draft, DraftChip
from latchwork.design.handle import Handle, chip_of, draft_of
from latchwork.design.mistakes import kind_of, mistake, near
from latchwork.design.place import here
from latchwork.design.signals import Net
from latchwork.design.values import level_of, name_of, net_of, nets_of, number_of, text_of
from latchwork.model import Halt, LoadedImage, MicroprogramBinding, Port, Section, Space, Statements, Table

_WORDS = (4, 8, 16, 24, 32)


@dataclass(eq=False)
class Stated:
    """Statements so far, as the model will hold them."""

    microprogram: MicroprogramBinding | None = None
    spaces: dict[str, Space] = field(default_factory=dict)
    sections: dict[str, Section] = field(default_factory=dict)
    tables: list[Table] = field(default_factory=list)
    images: list[LoadedImage] = field(default_factory=list)
    ports: dict[str, Port] = field(default_factory=dict)
    halts: list[Halt] = field(default_factory=list)
    registers: dict[str, tuple[int, ...]] = field(default_factory=dict)
    contents: dict[int, bytes] = field(default_factory=dict)
    places: dict[str, Position] = field(default_factory=dict)


def frozen_statements(draft: Draft, stated: Stated) -> Statements:
    """The statements, once all lines are known."""
    for space in stated.spaces.values():
        _refuse_unknown_lines(draft, space)
    return Statements(
        microprogram=stated.microprogram,
        spaces=tuple(stated.spaces.values()),
        sections=tuple(stated.sections.values()),
        tables=tuple(stated.tables),
        images=tuple(stated.images),
        ports=tuple(stated.ports.values()),
        halts=tuple(stated.halts),
        registers=tuple(stated.registers.items()),
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


def add_space(stated: Stated, space: Space) -> None:
    given = space.name
    _claim(stated, f'the space "{given}"')
    if len(space.data) not in _WORDS:
        hint = "a word has 4, 8, 16, 24 or 32 bits"
        raise mistake("M022", f'the data of the space "{given}" are {len(space.data)} bits wide', help=hint)
    if len(space.address) > 32:
        raise mistake("M022", f'the space "{given}" has {len(space.address)} address bits', help="32 is the most")
    stated.spaces[given] = space


def _claim(stated: Stated, what: str, verb: str = "is there") -> None:
    """Refuse a second statement of the same thing."""
    if what in stated.places:
        earlier = stated.places[what]
        message = f"{what} {verb} already, in line {earlier.line}"
        raise mistake("M006", message, earlier=earlier, earlier_text="named here first")
    stated.places[what] = here()


def add_section(stated: Stated, name: object, space: object, start: object, size: object) -> None:
    """A place for text, inside of its space and clear of its other sections."""
    given = name_of(name, "a section")
    _claim(stated, f'the section "{given}"')
    place = text_of(space, "the space of a section")
    if place not in stated.spaces:
        raise mistake("M012", f'there is no space "{place}" above this line', help=near(place, stated.spaces))
    section = Section(
        given, place, number_of(start, "the start of a section"), number_of(size, "the size of a section", 1), here()
    )
    _refuse_outside(section, stated.spaces[place])
    for other in stated.sections.values():
        _refuse_overlap(section, other)
    stated.sections[given] = section


def _refuse_outside(section: Section, space: Space) -> None:
    end, limit = section.start + section.size, 1 << len(space.address)
    if end > limit:
        message = f'the section "{section.name}" ends at {end - 1:#x}, the space "{space.name}" at {limit - 1:#x}'
        raise mistake("M013", message, earlier=space.position, earlier_text=f"{len(space.address)} address bits")


def _refuse_overlap(section: Section, other: Section) -> None:
    low = max(section.start, other.start)
    high = min(section.start + section.size, other.start + other.size)
    if section.space == other.space and low < high:
        shared = f"{low:#x}" if high - low == 1 else f"{low:#x} to {high - 1:#x}"
        message = f'the sections "{other.name}" and "{section.name}" both hold {shared}'
        raise mistake("M013", message, earlier=other.position, earlier_text=f'"{other.name}" is placed here')


def add_port(draft: Draft, stated: Stated, name: object, nets: object, *, direction: str, take: object = None) -> None:
    given = name_of(name, "a port")
    _claim(stated, f'the port "{given}"')
    joined = tuple(net.index for net in nets_of(draft, nets, f'the port "{given}"'))
    edge = -1 if take is None else net_of(draft, take, f'the take of the port "{given}"').index
    stated.ports[given] = Port(given, joined, direction, edge, here())


def add_register(draft: Draft, stated: Stated, name: object, nets: object) -> None:
    given = name_of(name, "a register")
    _claim(stated, f'the register "{given}"')
    stated.registers[given] = tuple(net.index for net in nets_of(draft, nets, f'the register "{given}"'))


def claim_contents(stated: Stated, chip: DraftChip) -> None:
    """A ROM gets its bytes from one statement."""
    _claim(stated, f"what {chip.described} holds", "is stated")
