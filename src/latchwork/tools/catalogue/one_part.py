"""Everything about one part."""

from __future__ import annotations

from latchwork.chips import catalogue
from latchwork.chips.catalogue import UnknownPart
from latchwork.chips.families import FAMILIES
from latchwork.parts import Entry, Part
from latchwork.problems import LatchworkError, Problem
from latchwork.reports.catalogue import PartReport, PinRow
from latchwork.tools.catalogue.documentation import about
from latchwork.tools.catalogue.figures import rows_of
from latchwork.tools.catalogue.function_table import function_tables
from latchwork.tools.catalogue.listing import family_name
from latchwork.tools.catalogue.replacements import replacements

PREFERRED = ("HC", "HCT", "LS")  # for a number without a family


def part_report(entry: Entry, part: Part) -> PartReport:
    """``part`` is the entry in one family."""
    return PartReport(
        name=part.name,
        number=part.number,
        title=part.title,
        kind=part.kind,
        here=family_name(entry, part.family),
        families=tuple(family_name(entry, family) for family in entry.families),
        width_mil=part.width_mil,
        about=about(entry),
        pins=pin_rows(part),
        tables=function_tables(part),
        figures=rows_of(part.name, entry.figures, entry.families != ("",)),
        replacements=replacements(entry, part.family),
    )


def pin_rows(part: Part) -> tuple[PinRow, ...]:
    return tuple(PinRow(pin.number, pin.name, pin.sheet, pin.direction.value) for pin in part.pins)


def named_part(name: str, own: tuple[Part, ...] = ()) -> tuple[Entry, Part]:
    """A part by full name or bare number, those of a machine first. Raises LatchworkError (C120)."""
    for part in own:
        if part.name == name:
            return _entry_of(part)
    try:
        part = catalogue.find(name)
    except UnknownPart as unknown:
        found = _by_number(name)
        if found is None:
            raise _unknown(name, unknown, own) from None
        return found
    entry = next(each for each in catalogue.entries() if part.name in map(each.name_in, each.families))
    return entry, part


def _entry_of(part: Part) -> tuple[Entry, Part]:
    """The catalogue's entry of a machine's part, or one for a part of the user's own."""
    for entry in catalogue.entries():
        same_name = part.family in entry.families and entry.name_in(part.family) == part.name
        if same_name and catalogue.find(part.name) == part:
            return entry, part
    fields = ("number", "title", "kind", "pins", "behaviour", "vectors", "figures", "units", "width_mil")
    taken = {field: getattr(part, field) for field in fields}
    return Entry(families=(part.family,), **taken), part


def _by_number(number: str) -> tuple[Entry, Part] | None:
    for entry in catalogue.entries():
        if entry.number == number:
            family = next((each for each in PREFERRED if each in entry.families), entry.families[0])
            return entry, catalogue.find(entry.name_in(family))
    return None


def _unknown(name: str, unknown: UnknownPart, own: tuple[Part, ...]) -> LatchworkError:
    hint = '"latchwork chips" lists every part'
    if own:
        hint += f"; this machine has {', '.join(sorted(part.name for part in own))}"
    return LatchworkError(Problem("C120", str(unknown), help=hint))


def known_families() -> tuple[str, ...]:
    """ "TTL", "LS", ..."""
    return tuple(name or "TTL" for name in FAMILIES)
