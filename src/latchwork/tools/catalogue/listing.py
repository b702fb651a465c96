"""Listing and searching the catalogue."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from latchwork.chips import catalogue
from latchwork.chips.families import FAMILIES
from latchwork.netlist.verify_part import verify_part
from latchwork.parts import Confidence, Entry, Floating
from latchwork.reports.catalogue import CatalogueReport, ListedPart
from latchwork.tools.catalogue.documentation import HEADINGS, about

_NUMBERS = {
    **{"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8"},
    **{"nine": "9", "ten": "10", "twelve": "12", "thirteen": "13", "fourteen": "14", "sixteen": "16"},
}
_COUNTS = {"single": "1", "dual": "2", "triple": "3", "quad": "4", "quadruple": "4", "hex": "6", "octal": "8"}
REACTIONS = {"delay", "access"}


def listing(words: Iterable[str] = (), kind: str = "", family: str | None = None) -> CatalogueReport:
    """The parts that fit every word, the kind and the family; all where nothing is asked for."""
    asked = " ".join(words)
    every = catalogue.entries()
    found = [
        entry
        for entry in every
        if (not kind or entry.kind == kind)
        and (family is None or family in entry.families)
        and fits(entry, asked.split())
    ]
    parts = tuple(listed(entry) for entry in sorted(found, key=_order))
    return CatalogueReport(asked, len(every), sum(is_complete(entry) for entry in every), len(parts), parts)


def _order(entry: Entry) -> tuple[str, bool, int, str]:
    """By kind, numbers of the series as numbers."""
    digits = entry.number.isdigit()
    return entry.kind, not digits, int(entry.number) if digits else 0, entry.number


def listed(entry: Entry) -> ListedPart:
    from_memory = sum(figure.confidence is Confidence.MEMORY for figure in entry.figures)
    families = tuple(family_name(entry, family) for family in entry.families)
    complete = is_complete(entry)
    pins = len(entry.pins)
    return ListedPart(entry.number, entry.title, entry.kind, families, pins, complete, len(entry.figures), from_memory)


def family_name(entry: Entry, family: str) -> str:
    """ "TTL" for the family without letters, nothing outside of the series."""
    return family or ("TTL" if entry.families != ("",) else "")


def fits(entry: Entry, words: list[str]) -> bool:
    """Whether every word is a number, name or family of the part, or begins a word of its title, kind or function."""
    known = tokens(f"{entry.title} {entry.kind} {entry.function}")
    return all(_is_name(entry, word) or _is_told(word, known) for word in words)


def _is_name(entry: Entry, word: str) -> bool:
    names = {entry.number, *(entry.name_in(family) for family in entry.families)}
    families = {family_name(entry, family) for family in entry.families} - {""}
    return word.casefold() in {each.casefold() for each in names} or (word in families and word in {*FAMILIES, "TTL"})


def _is_told(word: str, known: set[str]) -> bool:
    return all(any(each.startswith(token) for each in known) for token in tokens(word))


def tokens(text: str) -> set[str]:
    """Words in small letters, numbers as digits: "4-bit" and "four-bit" are the same two."""
    found = re.findall(r"[a-z0-9.]+", text.casefold())
    return {_NUMBERS.get(word, _COUNTS.get(word, word)).removesuffix("s") or word for word in found}


@cache
def _is_complete(key: int, entry: Entry) -> bool:
    texts = about(entry)
    documented = all(texts.get(heading, "").strip() for heading in HEADINGS)
    sourced = all(figure.source.strip() for figure in entry.figures)
    sound = all(not verify_part(entry.in_family(family, Floating.UNKNOWN)) for family in entry.families)
    return documented and sourced and sound and _timed(entry)


def is_complete(entry: Entry) -> bool:
    """Documented under every heading, sound in every family, figures with sources, a time for every output."""
    return _is_complete(id(entry), entry)


def _timed(entry: Entry) -> bool:
    """Whether each output has a delay, and those that let go times for it; parts with timers state their own."""
    if entry.behaviour.timers:
        return True
    ports = entry.in_family(entry.families[0], Floating.UNKNOWN).ports
    for drive in entry.behaviour.drives:
        for asked in (REACTIONS, *(({"enable"}, {"disable"}) if drive.enable is not None else ())):
            ends = {pin for row in entry.figures if row.quantity in asked for pin in ports.get(row.end, ())}
            if not set(ports[drive.port]) <= ends:
                return False
    return True
