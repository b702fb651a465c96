"""Programmable chips in machine.py: the part that a file of logic or of fuses makes of them."""

from __future__ import annotations

from pathlib import Path

from latchwork.design.mistakes import kind_of, mistake
from latchwork.design.place import beside
from latchwork.parts import Part

KIND = "programmable"


def with_fuses(part: Part, logic: object, fuses: object) -> Part:
    """The part as it is burned; other parts are given back unchanged."""
    if logic is None and fuses is None:
        if part.kind == KIND and not part.fuses:
            hint = f'write m.chip("{part.name}", logic="name.logic", ...) or fuses="name.jed"'
            raise mistake("M027", f"{part.name} does nothing before its fuses are set", help=hint)
        return part
    if logic is not None and fuses is not None:
        raise mistake("M021", f"{part.name} is given logic and fuses; one of them says what it does")
    if part.kind != KIND:
        raise mistake("M028", f"{part.name} ({part.title}) has no fuses that a file could set")
    return _programmed(part, logic, fuses)


def _programmed(part: Part, logic: object, fuses: object) -> Part:
    from latchwork.fuses.sources import part_of_fuses, part_of_logic

    given, make = (logic, part_of_logic) if logic is not None else (fuses, part_of_fuses)
    if not isinstance(given, (str, Path)) or not str(given):
        what = "logic" if logic is not None else "fuses"
        raise mistake("M007", f"{what} is the name of a file, not {kind_of(given)}")
    path = beside() / given
    return make(part, path, str(path))
