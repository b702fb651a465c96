"""Finding parts by name: the chip files are looked for and read at the first question, and each part is made once."""

from __future__ import annotations

import pkgutil
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from functools import cache
from importlib import import_module
from types import ModuleType

import latchwork.chips
from latchwork.chips.estimates import with_estimates
from latchwork.chips.families import FAMILIES
from latchwork.parts import Entry, Floating, Part


class UnknownPart(ValueError):  # noqa: N818  a name that reads well where it is raised
    """No part has this name. ``near``: names that look like it; ``families``: those in which the number is made."""

    def __init__(self, message: str, near: tuple[str, ...] = (), families: tuple[str, ...] = ()) -> None:
        self.near = near
        self.families = families
        super().__init__(message)


def find(name: str) -> Part:
    """The part with a full name: "74HCT377", "7400", "28C256". Raises UnknownPart."""
    found = _names().get(name)
    if found is None:
        raise _unknown(name)
    return _part(*found)


def find_in_family(number: str, family: str) -> Part:
    """The part with a function number in a family: "377" in "HCT"; a part outside of the series is found
    whatever the family. Raises UnknownPart."""
    of_number = _numbers().get(number)
    if of_number is None:
        raise UnknownPart(*_nothing_like(number))
    for entry in of_number:
        if family in entry.families:
            return _part(entry, family)
        if entry.families == ("",):
            return _part(entry, "")
    raise _not_made(f"74{family}{number}", number)


@cache
def entries() -> tuple[Entry, ...]:
    """Every part function of the catalogue, in the order of folders and files, with estimates for recalled times."""
    return with_estimates(written())


@cache
def written() -> tuple[Entry, ...]:
    """Every part function as the chip files have it."""
    return tuple(entry for module in modules() for entry in entries_of(module))


def gate_entry(function: str, inputs: int) -> Entry:
    """The package with gates of a function ("nand", "inverter", ...) and a number of inputs. Raises UnknownPart."""
    gates = [entry for entry in entries() if entry.function]
    same = [entry for entry in gates if entry.function == function]
    for entry in same:
        if entry.inputs == inputs:
            return entry
    if same:
        sizes = _listed(str(entry.inputs) for entry in sorted(same, key=lambda entry: entry.inputs))
        raise UnknownPart(f'no "{function}" gate has {inputs} inputs; there are gates with {sizes}')
    functions = sorted({entry.function for entry in gates})
    raise UnknownPart(f'"{function}" is no gate; there are {_listed(functions)}', tuple(functions))


@cache
def modules() -> tuple[ModuleType, ...]:
    """The chip files, in the order of folders and files."""
    path, package = latchwork.chips.__path__, latchwork.chips.__name__
    folders = [found.name for found in pkgutil.iter_modules(path) if found.ispkg]
    return tuple(module for folder in folders for module in _modules_in(f"{package}.{folder}"))


def _modules_in(package: str) -> Iterator[ModuleType]:
    for found in pkgutil.iter_modules(import_module(package).__path__):
        module = import_module(f"{package}.{found.name}")
        if entries_of(module):
            yield module


def entries_of(module: ModuleType) -> tuple[Entry, ...]:
    """What a chip file binds as ``entry`` or ``entries``."""
    single = (module.entry,) if hasattr(module, "entry") else ()
    return (*single, *getattr(module, "entries", ()))


@cache
def _names() -> dict[str, tuple[Entry, str]]:
    return {entry.name_in(family): (entry, family) for entry in entries() for family in entry.families}


@cache
def _numbers() -> dict[str, tuple[Entry, ...]]:
    found: dict[str, tuple[Entry, ...]] = {}
    for entry in entries():
        found[entry.number] = (*found.get(entry.number, ()), entry)
    return found


_parts: dict[str, Part] = {}


def _part(entry: Entry, family: str) -> Part:
    name = entry.name_in(family)
    if name not in _parts:
        _parts[name] = entry.in_family(family, _floating(entry, family))
    return _parts[name]


def _floating(entry: Entry, family: str) -> Floating:
    """Parts outside of the series are taken to be CMOS, as today's memories are."""
    in_series = entry.families != ("",) or entry.number.startswith("74")
    return FAMILIES[family].floating if in_series else Floating.UNKNOWN


def _unknown(name: str) -> UnknownPart:
    number = _number_in(name)
    return _not_made(name, number) if number else UnknownPart(*_nothing_like(name))


def _number_in(name: str) -> str:
    """The number of a known function at the end of a name of the series, or nothing."""
    if not name.startswith("74"):
        return ""
    series = {number for number, made in _numbers().items() if made[0].families != ("",)}
    ends = [number for number in series if name.endswith(number) and name[2 : -len(number)].isupper()]
    bare = name[2:]
    return bare if bare in series else max(ends, key=len, default="")


def _not_made(name: str, number: str) -> UnknownPart:
    families = tuple(family for entry in _numbers()[number] for family in entry.families)
    made_in = _listed(family or "TTL" for family in families)
    return UnknownPart(f"{name} does not exist; {number} is made in {made_in}", families=families)


def _nothing_like(name: str) -> tuple[str, tuple[str, ...]]:
    known = [*_names(), *_numbers()]
    folded = {each.casefold(): each for each in known}
    near = tuple(folded[each] for each in get_close_matches(name.casefold(), folded, n=3, cutoff=0.6))
    hint = f"; near it are {_listed(near)}" if near else ""
    return f'"{name}" is not in the catalogue{hint}', near


def _listed(words: Iterable[str]) -> str:
    return ", ".join(words)
