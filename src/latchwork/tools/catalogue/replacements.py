"""Near replacements: other families, the same function on other pins, other functions on the same pins; and what
changes. Pins are compared by number and direction, functions by giving both parts the same levels."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from latchwork.chips import catalogue
from latchwork.chips.families import FAMILIES, Family
from latchwork.parts import Direction, Entry, Floating, Part
from latchwork.reports.catalogue import Replacement
from latchwork.tools.catalogue.compare import STEPS, Comparison, comparable, compared
from latchwork.tools.catalogue.listing import family_name

SAME, MOVED, OTHER = "same pins and function", "same function, other pins", "same pins, other function"
MOST_RENAMED = 5  # pins that may be called something else in a part that is still near
Signature = tuple[tuple[int, str], ...]


def replacements(entry: Entry, family: str) -> tuple[Replacement, ...]:
    """Families first, then parts by how near they are."""
    order = (SAME, MOVED, OTHER)
    parts = sorted(_parts(entry), key=lambda each: (order.index(each.kind), len(each.number), each.number))
    return (*_families(entry, family), *parts)


# Families


def _families(entry: Entry, family: str) -> Iterator[Replacement]:
    if entry.families == ("",):
        return
    for other in entry.families:
        if other != family:
            changes = (*_changes(FAMILIES[family], FAMILIES[other]), *_speed(entry, family, other))
            behaviours = dict(entry.behaviours)
            if behaviours.get(family) is not behaviours.get(other):
                changes = ("its behaviour is not the same in all", *changes)
            yield Replacement(
                entry.name_in(other), entry.title, (family_name(entry, other),), SAME, changes, "one catalogue entry"
            )


def _changes(here: Family, there: Family) -> Iterator[str]:
    for quantity, side in (("input high", "minimum"), ("output high", "minimum"), ("output current low", "maximum")):
        old, new = (getattr(each.figure[quantity], side) for each in (here, there))
        if old != new:
            yield f"{quantity} {new:g} {there.figure[quantity].unit} instead of {old:g}"
    if here.supply != there.supply:
        yield f"supply {there.supply[0]:g} to {there.supply[1]:g} V instead of {here.supply[0]:g} to {here.supply[1]:g}"
    if here.floating is not there.floating:
        reads = "high" if there.floating is Floating.HIGH else "anything"
        yield f"an open input reads {reads}"


def _speed(entry: Entry, here: str, there: str) -> Iterator[str]:
    old, new = (_slowest(entry, family) for family in (here, there))
    if old and new and old != new:
        yield f"slowest delay {new:g} ns instead of {old:g}"


def _slowest(entry: Entry, family: str) -> float:
    times = [row.maximum for row in entry.figures if row.family == family and row.quantity in ("delay", "access")]
    return max((time for time in times if time is not None), default=0.0)


# Other parts


def _part(entry: Entry) -> Part:
    return entry.in_family(entry.families[0], Floating.UNKNOWN)


def _parts(entry: Entry) -> Iterator[Replacement]:
    part = _part(entry)
    if not comparable(part):
        return
    for other in catalogue.entries():
        if other.number == entry.number or not comparable(_part(other)):
            continue
        if _by_number(other) == _by_number(entry):
            found = _at_same_pins(entry, other)
            if found.kind == SAME or len(_renamed(part, _part(other))) <= MOST_RENAMED:
                yield found
        elif _by_name(other) == _by_name(entry) and _compared(entry, other, by_name=True).same:
            yield _replacement(other, MOVED, tuple(_moved(part, _part(other))))


@cache
def _by_number(entry: Entry) -> Signature:
    """Direction of each pin number; pins without connection left out, which may stand opposite anything."""
    return tuple(
        sorted((pin.number, pin.direction.value) for pin in entry.pins if pin.direction is not Direction.UNUSED)
    )


@cache
def _by_name(entry: Entry) -> frozenset[tuple[str, str]]:
    return frozenset((pin.name, pin.direction.value) for pin in entry.pins if pin.direction is not Direction.UNUSED)


@cache
def _compared(entry: Entry, other: Entry, by_name: bool = False) -> Comparison:
    first, second = _part(entry), _part(other)
    places = {(pin.name if by_name else pin.number): index for index, pin in enumerate(second.pins)}
    keys = {index: (pin.name if by_name else pin.number) for index, pin in enumerate(first.pins)}
    return compared(first, second, {index: places[key] for index, key in keys.items() if key in places})


def _at_same_pins(entry: Entry, other: Entry) -> Replacement:
    found = _compared(entry, other)
    part, second = _part(entry), _part(other)
    renamed = _renamed(part, second)
    if found.same:
        return _replacement(other, SAME, renamed)
    return _replacement(other, OTHER, (*_unlike(part, found), *renamed))


def _replacement(other: Entry, kind: str, changes: tuple[str, ...]) -> Replacement:
    families = tuple(family_name(other, family) for family in other.families)
    proof = f"both were given the same levels, {STEPS} steps in 64 runs"
    return Replacement(other.number, other.title, families, kind, changes, proof)


def _unlike(part: Part, found: Comparison) -> Iterator[str]:
    outputs = [index for index, pin in enumerate(part.pins) if pin.direction in (Direction.OUTPUT, Direction.BOTH)]
    if found.opposite:
        yield f"inverted: {_names(part, found.opposite, outputs)}"
    if found.letting_go:
        yield f"drives where this one lets go, or the other way round: {_names(part, found.letting_go, outputs)}"
    rest = [pin for pin in found.differing if pin not in found.opposite and pin not in found.letting_go]
    if rest:
        yield f"answers differently at {_names(part, rest, outputs)}"


def _names(part: Part, pins: tuple[int, ...] | list[int], outputs: list[int]) -> str:
    return "every output" if len(pins) == len(outputs) else ", ".join(part.pins[pin].sheet for pin in pins)


def _renamed(part: Part, other: Part) -> tuple[str, ...]:
    """Pins that are called something else."""
    theirs = {pin.number: pin for pin in other.pins}
    return tuple(
        f"pin {pin.number} is {theirs[pin.number].sheet} instead of {pin.sheet}"
        for pin in part.pins
        if pin.number in theirs and pin.sheet != theirs[pin.number].sheet and pin.direction is not Direction.UNUSED
    )


def _moved(part: Part, other: Part) -> Iterator[str]:
    theirs = {pin.name: pin.number for pin in other.pins}
    moved = [
        f"{pin.sheet} {theirs[pin.name]} instead of {pin.number}"
        for pin in part.pins
        if pin.name in theirs and theirs[pin.name] != pin.number
    ]
    yield f"pins: {', '.join(moved)}" if len(moved) <= 8 else f"{len(moved)} pins stand elsewhere"
