"""What the assembler knows of the machine: its instructions and the places where words may go."""

from __future__ import annotations

from dataclasses import dataclass, field

from latchwork.base.position import NOWHERE, Position
from latchwork.model import Instruction, Model, Section, Space


@dataclass(frozen=True)
class Place:
    """A section: ``size`` words of ``bits`` bits from ``start`` of an address space with ``address_bits``.

    ``load_space``: the space from whose ``load_start`` on its words are stored; "" where they are stored in place.
    """

    name: str
    space: str
    start: int
    size: int
    bits: int = 8
    address_bits: int = 16
    load_space: str = ""
    load_start: int = 0
    position: Position = field(default=NOWHERE, compare=False)

    @property
    def end(self) -> int:
        return self.start + self.size


@dataclass(frozen=True)
class Target:
    """The first place is where text goes before any ``.section``."""

    instructions: tuple[Instruction, ...]
    places: tuple[Place, ...]


def target_of(model: Model) -> Target:
    """The machine as the assembler sees it. Where it states no sections, each space is one."""
    instructions = model.control.instructions if model.control else ()
    spaces = {space.name: space for space in model.statements.spaces}
    places = [
        _place(section, spaces[section.space]) for section in model.statements.sections if section.space in spaces
    ]
    whole = [
        Place(s.name, s.name, 0, 1 << min(len(s.address), 24), len(s.data), len(s.address)) for s in spaces.values()
    ]
    return Target(instructions, tuple(places or whole))


def _place(section: Section, space: Space) -> Place:
    return Place(
        name=section.name,
        space=space.name,
        start=section.start,
        size=section.size,
        bits=len(space.data),
        address_bits=len(space.address),
        load_space=section.load_space,
        load_start=section.load_start,
        position=section.position,
    )
