"""The machine while it is being described: everything that a frozen netlist is made from."""

from __future__ import annotations

from dataclasses import dataclass, field

from latchwork import netlist
from latchwork.base.position import NOWHERE, Position
from latchwork.design.mistakes import mistake
from latchwork.design.place import here
from latchwork.design.signals import Bus, Level, Net
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Direction, Part

_RAILS = {Direction.SUPPLY: Level.HIGH, Direction.GROUND: Level.LOW}
_LETTERS = {"LED": "D", "resistor": "R", "switch": "S", "button": "S", "hand clock": "S", "crystal oscillator": "X",
            "oscillator": "X"}  # fmt: skip


@dataclass(eq=False)
class DraftChip:
    """An instance of a part, its pins still open to change."""

    index: int
    reference: str
    part: Part
    pins: list[int]
    board: int
    label: str
    position: Position
    parameters: dict[str, int | str]
    left_open: set[int] = field(default_factory=set)
    unused: list[str] = field(default_factory=list)  # names of units that no gate has taken

    @property
    def described(self) -> str:
        return f"{self.part.name} {self.reference}"


@dataclass(eq=False)
class Draft:
    """See the module. Indices of ``nets``, ``chips`` and ``boards`` are those of the netlist."""

    name: str
    family: str
    supply_millivolts: int
    nets: list[netlist.Net] = field(default_factory=list)
    names: dict[str, Position] = field(default_factory=dict)
    buses: list[netlist.Bus] = field(default_factory=list)
    chips: list[DraftChip] = field(default_factory=list)
    parts: dict[str, Part] = field(default_factory=dict)  # by name
    boards: list[netlist.Board] = field(default_factory=list)
    lines: dict[str, netlist.Line] = field(default_factory=dict)
    assumptions: dict[int, netlist.Assumption] = field(default_factory=dict)
    board: int = -1  # the board that is being described, -1: none
    clock: int = NO_NET
    hand_clock: int = NO_NET
    periods: dict[int, int] = field(default_factory=dict)  # of nets that carry a crystal clock, in picoseconds
    waiting: list[DraftChip] = field(default_factory=list)  # reset chips whose time follows from the main clock
    labels: set[str] = field(default_factory=set)
    counted: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.rails = {level: self.add_net(level.name, NOWHERE, declared=False) for level in Level}

    def claim(self, name: str, position: Position) -> None:
        """Take a name for a net or a bus."""
        if name in self.names:
            earlier = self.names[name]
            where = f" in line {earlier.line}" if earlier.line else ""
            taken = f'the name "{name}" is taken{where}' if earlier.line else f'"{name}" is the name of a rail'
            raise mistake("M006", taken, earlier=earlier if earlier.line else None, earlier_text="named here first")
        self.names[name] = position

    def add_net(self, name: str, position: Position | None = None, *, declared: bool = True) -> Net:
        position = here() if position is None else position
        self.claim(name, position)
        return self._net(name, position, declared)

    def _net(self, name: str, position: Position, declared: bool) -> Net:
        self.nets.append(netlist.Net(name, position, declared))
        return Net(self, len(self.nets) - 1)

    def add_bus(self, name: str, width: int, idle: str = "", *, declared: bool = True) -> Bus:
        """A bus of new nets name[0] .. name[width-1]."""
        position = here()
        self.claim(name, position)
        nets = tuple(self._net(f"{name}[{bit}]", position, declared) for bit in range(width))
        self.buses.append(netlist.Bus(name, tuple(net.index for net in nets), idle))
        return Bus(self, nets, name)

    @property
    def main_clock(self) -> int:
        """The first clock; in a machine that has only hand clocks the first of those."""
        return self.clock if self.clock != NO_NET else self.hand_clock

    def net_index(self, name: str) -> int | None:
        """The net with this name."""
        return next((index for index, net in enumerate(self.nets) if net.name == name), None)

    def speakable(self) -> list[str]:
        """Names of nets that a person gave."""
        return [net.name for net in self.nets if net.declared]

    def add_chip(self, part: Part, label: str = "", **parameters: int | str) -> DraftChip:
        """A chip on the current board, its supply pins on the rails and all others open."""
        if self.parts.setdefault(part.name, part) != part:
            raise mistake("M006", f'two different parts are called "{part.name}"', help="give one another name")
        pins = [self.rails[_RAILS[pin.direction]].index if pin.direction in _RAILS else NO_NET for pin in part.pins]
        board = self.current_board()
        path = label or part.name.replace(" ", "_")
        if self.board >= 0:
            path = f"{self.boards[board].name}.{path}"
        reference = self._numbered(_LETTERS.get(part.number, "U"))
        chip = DraftChip(len(self.chips), reference, part, pins, board, self._unique(path), here(), dict(parameters))
        self.chips.append(chip)
        return chip

    def current_board(self) -> int:
        """The board being described; outside of any, one called "main"."""
        return self.board if self.board >= 0 else self.board_named("main", "")

    def board_named(self, name: str, title: str) -> int:
        """The index of a board, new or met again; a title once given stays."""
        for index, board in enumerate(self.boards):
            if board.name == name:
                self.boards[index] = netlist.Board(name, board.title or title)
                return index
        self.boards.append(netlist.Board(name, title))
        return len(self.boards) - 1

    def _numbered(self, letter: str) -> str:
        self.counted[letter] = self.counted.get(letter, 0) + 1
        return f"{letter}{self.counted[letter]}"

    def count(self, word: str) -> int:
        """How often it has been asked for ``word``, this time included."""
        self.counted[word] = self.counted.get(word, 0) + 1
        return self.counted[word]

    def _unique(self, label: str) -> str:
        number, unique = 1, label
        while unique in self.labels:
            number += 1
            unique = f"{label}#{number}"
        self.labels.add(unique)
        return unique
