"""Published timing and DC rows, and which of them stand in the catalogue.

The rows are those of tests/data/published_timing.json and published_dc.json, each with its source. A row is used where
every number of it stands in a figure of the part, or of the family, that it names, in the row's unit; whether it
stands at the right path is for the tests of the parts. Sheets of makers write a part in their own way (DM74LS161A,
M74HC540, 74LS83A/74LS283): the family and the number count. Every other row has its reason in ``REASONS``.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

from latchwork.chips import catalogue
from latchwork.chips.families import FAMILIES
from latchwork.parts import Figure

DATA = Path(__file__).parents[1] / "data"
FILES = ("published_timing.json", "published_dc.json")
_PART = re.compile(r"74([A-Z]*)(\d+)")
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_UNIT = re.compile(r"\b(?:MHz|mA|uA|ns|pF|V)\b")
_FAMILY = re.compile(r"^74([A-Z]*)(?: |$)")
Row = dict[str, object]

REASONS = (  # item, quantity, value or conditions: patterns of the rows; why none of their figures is in the catalogue
    (
        "",
        "addition time|add time|ripple figure|64-bit add|addition example",
        "a time or sum of several parts together: what an analysis has to arrive at, not a figure of one part",
    ),
    ("74VHC", "", "VHC is no family of the catalogue"),
    ("", "transition|tr,tf", "rise and fall times of signals are no quantity of the catalogue"),
    (
        "",
        "IOS|hysteresis|delta ICC",
        "no quantity of the catalogue: short-circuit current, hysteresis, extra supply current of inputs at TTL levels",
    ),
    ("unit loads", "", "unit loads: the currents computed from them stand in the figures"),
    ("", "unit load|output capability", "loads counted in units: the currents computed from them stand in the figures"),
    ("bus driver", "", "the stronger outputs stand with the parts that have them, not with the family"),
    ("", "average|from strobe|from select", "averages of rise and fall; the sheet's own rows stand in the figures"),
    ("", "-40..85", "the figures at 25 degC stand; those over temperature are left out where both are published"),
    ("", "see maker|9-11|7.5-10|6.5-7", "from memory as a range: no single number to take"),
    ("74F161A", "", "from memory as a range: no single number to take"),
    ("", "CPD", "not yet in the chip file"),
    (
        "MM74HCT138|74HCT138|74HC138|74HC153|74HCT00|74HC4002",
        "",
        "a second maker's or a 15 pF figure; the figure at 50 pF of the first source stands",
    ),
    ("DM74LS161A|74LS161A", "", "a second load or typical figure; the figure at 15 pF of the first source stands"),
    ("74HCT652|74F251|DM74LS00|74F245|74F$", "", "not yet in the chip file"),
    (
        "",
        "fmax|tsu|levels|ICC|tpd|tPHL|tPLH|A->B|A,B->F|CP->Q",
        "from memory, and a figure read in a sheet is preferred: replaced when a source is found",
    ),
)


def rows() -> list[Row]:
    return [row for file in FILES for row in json.loads((DATA / file).read_text(encoding="utf-8"))]


def key(row: Row) -> str:
    """What tells a row from others."""
    return " | ".join(str(row[name]) for name in ("item", "quantity", "value", "conditions"))


def names_a_part(row: Row) -> bool:
    return bool(_PART.search(str(row["item"]))) or _FAMILY.match(str(row["item"])) is not None


def figures_meant(row: Row) -> Iterator[Figure]:
    """Figures of the parts that a row names in their family, or of the family."""
    item = str(row["item"])
    family = _FAMILY.match(item)
    if family and not _PART.search(item):
        yield from FAMILIES[family[1]].figures if family[1] in FAMILIES else ()
    for name, number in _PART.findall(item):
        for entry in catalogue.written():
            if entry.number == number:
                yield from (figure for figure in entry.figures if figure.family == name)


def reason(row: Row) -> str:
    """Why a row is not used; empty where nobody has said."""
    if _PART.search(str(row["item"])) and not any(True for _ in figures_meant(row)):
        return "the catalogue has no such part in this family, or no figure of it"
    told = f"{row['quantity']} {row['value']} {row['conditions']}"
    for item, quantity, why in REASONS:
        if re.search(item, str(row["item"])) and re.search(quantity, told):
            return why
    return ""


def is_used(row: Row) -> bool:
    wanted = {float(number) for number in _NUMBER.findall(str(row["value"]))}
    unit = str(row["unit"]).replace("µ", "u") or next(iter(_UNIT.findall(str(row["value"]))), "")
    known = {
        abs(value)
        for figure in figures_meant(row)
        if figure.unit == unit
        for value in (figure.minimum, figure.typical, figure.maximum)
        if value is not None
    }
    return bool(wanted) and wanted <= known
