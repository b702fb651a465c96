"""Joining ports of a chip to nets: names of pins, widths, and what may stand on what."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from latchwork.design.draft import Draft, DraftChip
from latchwork.design.mistakes import either, kind_of, listed, mistake, near
from latchwork.design.signals import OPEN, Bus, LeftOpen, Level, Net
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Direction, Part, Pin

One = Net | Level | LeftOpen
Joined = One | Bus | Iterable[One]


def connect(draft: Draft, chip: DraftChip, ports: Mapping[str, object]) -> None:
    """Join each port to what is written for it; supply pins may be named too."""
    written: dict[int, str] = {}
    for port, value in ports.items():
        pins = pins_of(chip.part, port)
        for pin, one in zip(pins, values_for(draft, chip.part, port, pins, value), strict=True):
            if pin in written:
                name = chip.part.pins[pin].name
                raise mistake("M004", f"{chip.part.name} pin {name} is connected twice, by {written[pin]} and {port}")
            _refuse_joined(chip, pin)
            written[pin] = port
            _join(chip, pin, one)


def _refuse_joined(chip: DraftChip, pin: int) -> None:
    """A pin that an earlier statement has joined stays where it is; rails of supply pins may be written over."""
    this = chip.part.pins[pin]
    if this.direction not in (Direction.SUPPLY, Direction.GROUND) and chip.pins[pin] != NO_NET:
        hint = "join the pin before its net is read through the chip"
        raise mistake("M004", f"{chip.described} {this.name} is joined to a net already", help=hint)


def pins_of(part: Part, port: object) -> tuple[int, ...]:
    """Indices of the pins of a port, which is named as in Python or with the label of the data sheet."""
    if isinstance(port, str) and port in part.ports:
        return part.ports[port]
    labels = {pin.sheet: index for index, pin in enumerate(part.pins)}
    if isinstance(port, str) and port in labels:
        return (labels[port],)
    wrote = f'"{port}"' if isinstance(port, str) else "by " + kind_of(port)
    message = f"{part.name} has no pin {wrote}; it has {port_list(part)}"
    raise mistake("M002", message, help=_nearest(part, port))


def port_list(part: Part) -> str:
    """The ports, inputs first and supply last; a vector stands for all of its pins."""
    vector = {pin: name for name, pins in part.vectors for pin in pins}
    pins = sorted(
        part.pins, key=lambda pin: (_inputs_first(pin), pin.name in vector, "" if pin.name in vector else pin.name)
    )
    return listed(
        dict.fromkeys(vector.get(pin.name, pin.name) for pin in pins if pin.direction is not Direction.UNUSED)
    )


def _inputs_first(pin: Pin) -> int:
    order = [Direction.INPUT, Direction.BOTH, Direction.PASSIVE, Direction.OUTPUT, Direction.SUPPLY, Direction.GROUND]
    return order.index(pin.direction) if pin.direction in order else len(order)


def _nearest(part: Part, port: object) -> str:
    if not isinstance(port, str):
        numbered = [pin.name for pin in part.pins if pin.number == port]
        return f"pins are written by name; number {port} is {numbered[0]}" if numbered else ""
    hint = near(port, [*part.ports, *(pin.sheet for pin in part.pins)])
    return hint if hint.startswith("did") else ""


def values_for(draft: Draft, part: Part, port: str, pins: tuple[int, ...], value: object) -> tuple[One, ...]:
    """One value a pin."""
    if isinstance(value, (Level, LeftOpen)):
        return (value,) * len(pins)
    values = _as_ones(draft, part, port, value)
    if len(values) != len(pins):
        width = f"{len(pins)} pin{'s' * (len(pins) != 1)}"
        raise mistake("M003", f"{part.name} {port} has {width}, {_naming(value)} has {len(values)}",
                      help=_width_hint(value, len(pins)))  # fmt: skip
    return values


def _naming(value: object) -> str:
    if isinstance(value, Bus) and value.name:
        return f'the bus "{value.name}"'
    if isinstance(value, Net):
        return value.described
    return "what is joined to it"


def _width_hint(value: object, width: int) -> str:
    if isinstance(value, Bus) and len(value) > width:
        return f"write a part of it, such as {value.name or 'bus'}[0:{width}]"
    return (
        "tie pins that are not used to HIGH or LOW in a list, or leave outputs OPEN" if isinstance(value, Bus) else ""
    )


def _as_ones(draft: Draft, part: Part, port: str, value: object) -> tuple[One, ...]:
    if isinstance(value, Net):
        return (_own(draft, value),)
    if isinstance(value, (Bus, list, tuple)):
        return tuple(one for each in value for one in _flat(draft, part, port, each))
    raise _wrong(part, port, value)


def _flat(draft: Draft, part: Part, port: str, value: object) -> tuple[One, ...]:
    """A member of a list: a net, a rail, or a bus that stands for its nets."""
    if isinstance(value, (Level, LeftOpen)):
        return (value,)
    if isinstance(value, Bus):
        return tuple(_own(draft, net) for net in value)
    if isinstance(value, Net):
        return (_own(draft, value),)
    raise _wrong(part, port, value)


def _wrong(part: Part, port: str, value: object) -> Exception:
    hint = ""
    if isinstance(value, int) and value in (0, 1):
        hint = f"write {'HIGH' if value else 'LOW'} for a rail"
    return mistake(
        "M007", f"{part.name} {port} is joined to a net, a bus, HIGH, LOW or OPEN, not to {kind_of(value)}", help=hint
    )


def _own(draft: Draft, net: Net) -> Net:
    if net.draft is not draft:
        raise mistake("M008", f'{net.described} belongs to another machine, "{net.draft.name}"')
    return net


def _join(chip: DraftChip, pin: int, one: One) -> None:
    this = chip.part.pins[pin]
    if one is OPEN:
        chip.left_open.add(pin)
        chip.pins[pin] = NO_NET
    elif isinstance(one, Level):
        if this.direction is Direction.OUTPUT:
            hint = "leave it out, or write OPEN"
            raise mistake("M005", f"{chip.part.name} {this.name} is an output; it is not tied {one.name}", help=hint)
        chip.pins[pin] = int(one)  # the rails are the first two nets of every machine, low before high
    elif isinstance(one, Net):
        chip.pins[pin] = one.index


def only_pin(part: Part, direction: Direction) -> str:
    """The name of the one pin with a direction, for parts that have one."""
    names = [pin.name for pin in part.pins if pin.direction is direction]
    if len(names) != 1:
        raise ValueError(f"{part.name} has not one {direction.value} but {either(names) or 'none'}")
    return names[0]
