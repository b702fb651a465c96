"""Finding parts for machine.py: by full name, or by number in the machine's family."""

from __future__ import annotations

from latchwork.chips.catalogue import UnknownPart, find, find_in_family, gate_entry
from latchwork.chips.families import FAMILIES
from latchwork.design.mistakes import kind_of, listed, mistake, near
from latchwork.parts import Entry, Part


def part_named(name: object, family: str) -> Part:
    """The part "74HCT377", or "377" in a family. An unknown one is the user's mistake."""
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
