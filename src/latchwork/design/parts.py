"""Finding parts for machine.py: by full name, or by number in the machine's family."""

from __future__ import annotations

from latchwork.chips.catalogue import UnknownPart, find, find_in_family, gate_entry
from latchwork.chips.families import FAMILIES
from latchwork.design.mistakes import kind_of, listed, mistake, near
from latchwork.netlist.verify_part import verify_part
from latchwork.parts import Entry, Floating, Part


def part_named(name: object, family: str) -> Part:
    """The part "74HCT377", or "377" in a family, or a part of the user's own. An unknown one is the user's mistake."""
    if isinstance(name, (Entry, Part)):
        return _own_part(name, family)
    if not isinstance(name, str):
        raise mistake("M007", f'a part is named by a text such as "74HCT377", not by {kind_of(name)}')
    try:
        return find(name)
    except UnknownPart as unknown:
        full = unknown
    try:
        return find_in_family(name, family)
    except UnknownPart as unknown:
        raise mistake("M001", str(unknown if unknown.families else full)) from None


def _own_part(given: Entry | Part, family: str) -> Part:
    """A part made in the machine folder, in a family if it is made in several; it has to be sound."""
    part = given if isinstance(given, Part) else _in_family(given, family)
    broken = verify_part(part)
    if broken:
        raise mistake("M025", broken[0].message, help="mend the part where it is made")
    return part


def _in_family(entry: Entry, family: str) -> Part:
    if entry.families == ("",):
        return entry.in_family("", Floating.UNKNOWN)
    if family in entry.families:
        return entry.in_family(family, FAMILIES[family].floating)
    made_in = listed(each or "TTL" for each in entry.families)
    hint = 'write family="..." in m.chip(), or a part that is in one family: entry.in_family(...)'
    raise mistake("M001", f"{entry.number} is made in {made_in}, not in {family or 'TTL'}", help=hint)


def gate_of(function: object, inputs: int, family: str) -> tuple[Entry, Part]:
    """The package with such gates in a family."""
    if not isinstance(function, str):
        raise mistake("M007", f'a gate is named by its function, such as "nand", not by {kind_of(function)}')
    try:
        entry = gate_entry(function, inputs)
        return entry, find_in_family(entry.number, family)
    except UnknownPart as unknown:
        hint = near(function, unknown.near)
        raise mistake("M009", str(unknown), help=hint if hint.startswith("did") else "") from None


def family_of(family: object) -> str:
    """A logic family of the catalogue: "HCT", "LS", "" for standard TTL."""
    if isinstance(family, str) and family in FAMILIES:
        return family
    wrote = f'"{family}"' if isinstance(family, str) else kind_of(family)
    known = listed(f'"{name}"' for name in FAMILIES)
    raise mistake("M020", f"{wrote} is no logic family; there are {known}")
