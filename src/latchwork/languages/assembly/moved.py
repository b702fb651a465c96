"""Sections that are stored at one place and run at another: what a program may ask of them for its copy loop.

``driver.load`` is the address where the words of the section `driver` are stored, ``driver.run`` the one where they
run, ``driver.size`` how many words there are to copy: up to the last one that the program fills.
"""

from __future__ import annotations

from latchwork.languages.assembly.errors import Refusal
from latchwork.languages.assembly.expressions import Number
from latchwork.languages.assembly.frames import Frame, Where
from latchwork.languages.assembly.items import Claim, Code, Data, Item
from latchwork.languages.assembly.layout import Layout
from latchwork.languages.assembly.names import Definition
from latchwork.languages.assembly.scan import Line
from latchwork.languages.assembly.target import Place
from latchwork.problems import Label


def define_places(layout: Layout) -> None:
    """Define, before the first line of the program, where sections are stored and run."""
    for place in _moved(layout):
        _define(layout, place, "load", place.load_start)
        _define(layout, place, "run", place.start)


def define_sizes(layout: Layout) -> None:
    """Define how long the sections became, once all lines are laid out."""
    for place in _moved(layout):
        taken = layout.names.defined.get(f"{place.name}.size")
        if taken:
            label = Label(place.position, "this section has a size of its own")
            refusal = Refusal("A120", f"`{place.name}.size` is defined twice", taken.column, "", [label])
            layout.findings.add(taken.where.problem(refusal))
        else:
            ends = [_end(item) for item in layout.items if item.place == place]
            _define(layout, place, "size", max(ends, default=place.start) - place.start)


def _moved(layout: Layout) -> list[Place]:
    return [place for place in layout.target.places if place.load_space]


def _define(layout: Layout, place: Place, word: str, value: int) -> None:
    line = Line(place.position.file, place.position.line, "", (), "", 0, "", 0)
    layout.names.defined[f"{place.name}.{word}"] = Definition(Where(line, Frame(), ""), 0, value, Number(value))


def _end(item: Item) -> int:
    """The address behind the words of an item."""
    if isinstance(item, Claim):
        return item.place.start
    if isinstance(item, Code):
        return item.address + len(item.form.code)
    return item.address + (len(item.values) * item.units if isinstance(item, Data) else len(item.words))
