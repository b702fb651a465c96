"""The tables that a netlist becomes: numbers for nets, slots of state and memories, and what reads and drives which.

Everything here stays the same while switches move; what depends on them is in ``grouping``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from latchwork.devices import Output
from latchwork.engines.oracle.functions import Function, Places, drive_function, pair_function
from latchwork.engines.seeding import chip_keys
from latchwork.logic import Expression
from latchwork.netlist import ChipId, NetId, Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Behaviour, Floating, Keeper, Memory, Part, Tie, TieKind
from latchwork.parts.behaviour import Drive


@dataclass(frozen=True)
class Slot:
    """A state of bits: a register, latch or timer of a chip. ``wakes``: its value at power-up, if not by chance."""

    chip: ChipId
    name: str
    width: int
    key: str
    wakes: int | None = None


@dataclass(frozen=True)
class Store:
    """A memory of a chip."""

    chip: ChipId
    memory: Memory
    key: str


@dataclass(frozen=True)
class Bound:
    """An expression of one chip: call ``function.call(environment, places)``.

    ``kind`` chooses the environment: 0 where open inputs read high, 1 where they read anything. ``nets``, ``slots``
    and ``stores`` are what it reads. ``expression`` is kept for questions about dependence.
    """

    expression: Expression
    function: Function
    places: Places
    kind: int
    nets: tuple[NetId, ...]
    slots: tuple[int, ...]
    stores: tuple[int, ...]


@dataclass(frozen=True)
class BoundDrive:
    """A drive of one chip; bit i of its result goes to ``outputs[i]``."""

    chip: ChipId
    bound: Bound
    outputs: tuple[NetId, ...]
    first: int  # number of its contribution to outputs[0]; the others follow


@dataclass(frozen=True)
class BoundTie:
    """A switch or resistor between two nets."""

    chip: ChipId
    tie: Tie
    a: NetId
    b: NetId


@dataclass(frozen=True)
class BoundKeeper:
    chip: ChipId
    net: NetId
    key: str


@dataclass
class Wiring:
    """See the module. Nets from ``len(netlist.nets)`` on stand for single pins that are left open."""

    netlist: Netlist
    known: bool
    names: list[str] = field(default_factory=list)  # of all nets, open pins included
    drives: list[BoundDrive] = field(default_factory=list)
    contributions: int = 0
    slots: list[Slot] = field(default_factory=list)
    stores: list[Store] = field(default_factory=list)
    ties: list[BoundTie] = field(default_factory=list)
    keepers: list[BoundKeeper] = field(default_factory=list)
    outside: list[Output] = field(default_factory=list)  # of devices, each a contribution after the others
    slot_named: dict[tuple[ChipId, str], int] = field(default_factory=dict)
    store_named: dict[tuple[ChipId, str], int] = field(default_factory=dict)
    pins: list[tuple[NetId, ...]] = field(default_factory=list)
    keys: tuple[str, ...] = ()

    def port(self, chip: ChipId, name: str) -> tuple[NetId, ...]:
        return tuple(self.pins[chip][index] for index in self.netlist.part_of(chip).ports[name])

    def bind(self, chip: ChipId, expression: Expression) -> Bound:
        """An expression of a chip's part with the numbers of this chip."""
        states = state_names(self.netlist.part_of(chip))
        return self._bound(chip, expression, pair_function(expression, states, self.known))

    def bind_drive(self, chip: ChipId, drive: Drive) -> None:
        states = state_names(self.netlist.part_of(chip))
        function = drive_function(drive.value, drive.enable, drive.kind, states, self.known)
        bound = self._bound(chip, drive.value, function)
        outputs = self.port(chip, drive.port)
        self.drives.append(BoundDrive(chip, bound, outputs, self.contributions))
        self.contributions += len(outputs)

    def _bound(self, chip: ChipId, expression: Expression, function: Function) -> Bound:
        nets, slots, stores, places = [], [], [], []
        for place in function.layout:
            match place.kind:
                case "port":
                    places.append(self.port(chip, place.name)[place.bit])
                    nets.append(places[-1])
                case "state":
                    places.append(self.slot_named[chip, place.name])
                    slots.append(places[-1])
                case _:
                    places.append(self.store_named[chip, place.name])
                    stores.append(places[-1])
        kind = int(self.netlist.part_of(chip).floating is Floating.UNKNOWN)
        return Bound(expression, function, tuple(places), kind, _once(nets), _once(slots), _once(stores))


def _once(numbers: Iterable[int]) -> tuple[int, ...]:
    return tuple(dict.fromkeys(numbers))


def state_names(part: Part) -> frozenset[str]:
    """The variables of a part that are states, not ports."""
    return frozenset(name for name, _ in _states(part.behaviour))


def _states(behaviour: Behaviour) -> list[tuple[str, int]]:
    """Names and widths of registers, latches and timers."""
    registers = [(register.name, register.width) for register in behaviour.registers]
    latches = [(latch.name, latch.width) for latch in behaviour.latches]
    return registers + latches + [(timer.name, 1) for timer in behaviour.timers]


def wire(netlist: Netlist, known: bool) -> Wiring:
    """The tables of a netlist. ``known``: for the known reading, with pairs (bits, known)."""
    wiring = Wiring(netlist, known, keys=chip_keys(netlist), names=[net.name for net in netlist.nets])
    for chip in range(len(netlist.chips)):
        _number_pins(wiring, chip)
        _number_states(wiring, chip)
    for chip in range(len(netlist.chips)):
        behaviour = netlist.part_of(chip).behaviour
        for drive in behaviour.drives:
            wiring.bind_drive(chip, drive)
        wiring.ties.extend(_tie(wiring, chip, tie) for tie in behaviour.ties)
        wiring.keepers.extend(
            _keeper(wiring, chip, keeper, bit)
            for keeper in behaviour.keepers
            for bit in _bits(wiring, chip, keeper.port)
        )
    return wiring


def drive_of(wiring: Wiring, number: int) -> tuple[ChipId, Drive]:
    """The chip of a drive, and the drive as its part has it."""
    first = number
    chip = wiring.drives[number].chip
    while first and wiring.drives[first - 1].chip == chip:
        first -= 1
    return chip, wiring.netlist.part_of(chip).behaviour.drives[number - first]


def _number_pins(wiring: Wiring, chip: ChipId) -> None:
    pins = []
    for pin, net in zip(wiring.netlist.part_of(chip).pins, wiring.netlist.chips[chip].pins, strict=True):
        if net == NO_NET:
            net = len(wiring.names)
            wiring.names.append(f"{wiring.keys[chip]}.{pin.name}")
        pins.append(net)
    wiring.pins.append(tuple(pins))


def _number_states(wiring: Wiring, chip: ChipId) -> None:
    behaviour, key = wiring.netlist.part_of(chip).behaviour, wiring.keys[chip]
    wakes = {register.name: register.wakes for register in behaviour.registers}
    for name, width in _states(behaviour):
        wiring.slot_named[chip, name] = len(wiring.slots)
        wiring.slots.append(Slot(chip, name, width, f"{key}.{name}", wakes.get(name)))
    for memory in behaviour.memories:
        wiring.store_named[chip, memory.name] = len(wiring.stores)
        wiring.stores.append(Store(chip, memory, f"{key}.{memory.name}"))


def _tie(wiring: Wiring, chip: ChipId, tie: Tie) -> BoundTie:
    return BoundTie(chip, tie, wiring.port(chip, tie.a)[0], wiring.port(chip, tie.b)[0])


def _bits(wiring: Wiring, chip: ChipId, port: str) -> range:
    return range(len(wiring.port(chip, port)))


def _keeper(wiring: Wiring, chip: ChipId, keeper: Keeper, bit: int) -> BoundKeeper:
    return BoundKeeper(chip, wiring.port(chip, keeper.port)[bit], f"{wiring.keys[chip]}.{keeper.port}.{bit}")


def is_switch(tie: BoundTie) -> bool:
    return tie.tie.kind is TieKind.SWITCH


def rail_end(wiring: Wiring, tie: BoundTie) -> tuple[NetId, int] | None:
    """Of a tie from a net to a rail: the net and the rail's level. None for a tie between two other nets."""
    rails = {wiring.netlist.high: 1, wiring.netlist.low: 0}
    if tie.a in rails and tie.b not in rails:
        return tie.b, rails[tie.a]
    if tie.b in rails and tie.a not in rails:
        return tie.a, rails[tie.b]
    return None


def shorts_rails(wiring: Wiring, tie: BoundTie) -> bool:
    """Whether both ends of a tie are rails, of different levels."""
    return {tie.a, tie.b} == {wiring.netlist.high, wiring.netlist.low}
