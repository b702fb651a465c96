"""What a device does once its fuses are set, as expressions over its pins and registers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from latchwork.fuses.device import DEVICES, V22, Cell, Device, Mode, cells, columns, mode_of
from latchwork.logic import Expression, Operation, constant, variable
from latchwork.logic.expression import make
from latchwork.parts import Behaviour, Direction, Drive, Level, OutputKind, Part, Register, Update

NEVER, ALWAYS = constant(0), constant(1)


def device_of(part: Part) -> Device | None:
    """The device that a part of the catalogue is; None for parts without fuses."""
    return next((device for name, device in DEVICES.items() if part.number.endswith(name)), None)


def programmed(part: Part, name: str, fuses: str, names: Mapping[int, str] | None = None) -> Part:
    """The part with these fuses, under a name of its own; ``names``: of pins by number, in place of the sheet's.
    Raises ValueError where SYN and AC0 set no mode."""
    device = device_of(part)
    if device is None:
        raise ValueError(f"{part.name} has no fuses")
    part = _renamed(part, names or {})
    behaviour = _Reading(device, part, fuses).behaviour()
    pins = tuple(replace(pin, direction=_direction(pin.name, pin.direction, behaviour)) for pin in part.pins)
    title = f"{part.title}, programmed"
    return replace(part, name=name, title=title, behaviour=behaviour, pins=pins, fuses=fuses)


def _renamed(part: Part, names: Mapping[int, str]) -> Part:
    """The part with other names at its pins. Pins without one keep the sheet's, or their numbers if that is taken."""
    taken = set(names.values())
    kept = {pin.name: f"pin{pin.number}" if pin.name in taken else pin.name for pin in part.pins}
    new = {pin.name: names.get(pin.number, kept[pin.name]) for pin in part.pins}
    pins = tuple(
        replace(pin, name=new[pin.name], sheet=pin.sheet if new[pin.name] == pin.name else new[pin.name])
        for pin in part.pins
    )
    vectors = tuple((name, tuple(new[pin] for pin in group)) for name, group in part.vectors)
    clock = part.pins[0].name
    figures = tuple(
        replace(
            row, start=new[clock] if row.start == clock else row.start, end=new[clock] if row.end == clock else row.end
        )
        for row in part.figures
    )
    return replace(part, pins=pins, vectors=vectors, figures=figures)


def _direction(name: str, before: Direction, behaviour: Behaviour) -> Direction:
    """Inputs that no term reads and macrocells that nothing uses have no connection inside."""
    if before in (Direction.SUPPLY, Direction.GROUND):
        return before
    read, drive = name in _variables(behaviour), _drive_of(behaviour, name)
    if drive is None:
        return Direction.INPUT if read else Direction.UNUSED
    return Direction.BOTH if read or drive.enable is not None else Direction.OUTPUT


def _drive_of(behaviour: Behaviour, name: str) -> Drive | None:
    return next((drive for drive in behaviour.drives if drive.port == name), None)


def _variables(behaviour: Behaviour) -> set[str]:
    found: set[str] = set()
    todo = [each for drive in behaviour.drives for each in (drive.value, drive.enable) if each is not None]
    for register in behaviour.registers:
        todo += [each for update in register.updates for each in (update.clock, update.data)]
        todo += [level.active for level in register.levels]
    while todo:
        node = todo.pop()
        todo += node.args
        if node.operation is Operation.VARIABLE:
            found.add(str(node.data))
    return found


class _Reading:
    """A fuse map being read."""

    def __init__(self, device: Device, part: Part, fuses: str) -> None:
        mode = mode_of(device, fuses)
        if mode is None:
            raise ValueError(f"the fuses SYN and AC0 set no mode of a {device.name}")
        self.device, self.fuses = device, fuses
        self.names = {pin.number: pin.name for pin in part.pins}
        self.mode = mode
        self.registered = frozenset(cell.pin for cell in cells(device, mode) if self._is_registered(cell))
        self.cells = cells(device, mode, self.registered)
        self.pins = {column: pin for pin, column in columns(device, mode).items()}

    def _is_registered(self, cell: Cell) -> bool:
        return self.mode in (Mode.ONLY, Mode.REGISTERED) and self.fuses[cell.kind] == "0"

    def behaviour(self) -> Behaviour:
        return Behaviour(
            drives=tuple(drive for cell in self.cells if (drive := self._drive(cell))),
            registers=tuple(self._register(cell) for cell in self.cells if cell.pin in self.registered),
        )

    def _drive(self, cell: Cell) -> Drive | None:
        if self.mode is Mode.SIMPLE and self.fuses[cell.kind] == "1":
            return None  # an input
        enable = self._enable(cell)
        if enable is NEVER:
            return None
        value, port = self._value(cell), self.names[cell.pin]
        if enable is ALWAYS:
            return Drive(port, value)
        return Drive(port, value, enable, OutputKind.THREE_STATE)

    def _enable(self, cell: Cell) -> Expression:
        if cell.enable_pin:
            return ~variable(self.names[cell.enable_pin])
        return self._term(cell.enable_row) if cell.enable_row >= 0 else ALWAYS

    def _value(self, cell: Cell) -> Expression:
        """What stands at the pin. The flip-flop of a 16V8 takes the chosen polarity and is shown inverted; that of a
        22V10 takes the sum, and the polarity is chosen behind it."""
        high = self.fuses[cell.polarity] == "1"
        if cell.pin not in self.registered:
            return self._sum(cell) if high else _inverted(self._sum(cell))
        held = variable(self._state(cell.pin))
        return held if high and self.device is V22 else ~held

    def _register(self, cell: Cell) -> Register:
        data = self._sum(cell)
        if self.device is not V22 and self.fuses[cell.polarity] == "1":
            data = _inverted(data)
        if self.device.preset_row >= 0:
            data = _any([data, self._term(self.device.preset_row)])
        reset = self._term(self.device.reset_row) if self.device.reset_row >= 0 else NEVER
        levels = () if reset is NEVER else (Level(reset, NEVER),)
        clock = variable(self.names[self.device.clock])
        return Register(self._state(cell.pin), 1, (Update(clock, data),), levels, wakes=0)

    def _sum(self, cell: Cell) -> Expression:
        return _any([self._term(row) for row in cell.rows])

    def _term(self, row: int) -> Expression:
        """The product of the columns that a row is connected to: 1 where there are none, as in an erased device."""
        enable = self.device.term_enables + row
        if self.device.has_modes and self.fuses[enable] == "0":
            return NEVER
        connected = [index for index, fuse in enumerate(self.device.row(row)) if self.fuses[fuse] == "0"]
        if any(index ^ 1 in connected for index in connected):
            return NEVER
        literals = [self._literal(index) for index in connected]
        if not literals or len(literals) == 1:
            return literals[0] if literals else ALWAYS
        return make(Operation.AND, 1, *literals)

    def _literal(self, column: int) -> Expression:
        pin = self.pins[column & ~1]
        signal = ~variable(self._state(pin)) if pin in self.registered else variable(self.names[pin])
        return _inverted(signal) if column & 1 else signal

    def _state(self, pin: int) -> str:
        return f"held_{pin}"


def _inverted(value: Expression) -> Expression:
    if value in (NEVER, ALWAYS):
        return ALWAYS if value is NEVER else NEVER
    return value.args[0] if value.operation is Operation.NOT else ~value


def _any(terms: list[Expression]) -> Expression:
    kept = [term for term in dict.fromkeys(terms) if term is not NEVER]
    if ALWAYS in kept or not kept:
        return ALWAYS if kept else NEVER
    return kept[0] if len(kept) == 1 else make(Operation.OR, 1, *kept)
