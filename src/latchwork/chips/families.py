"""The logic families: technology, how an open input reads, supply, levels and currents, each with its source.

Currents have the signs of the sheets: negative flows out of the pin. Levels of CMOS families are those at a
supply of 4.5 V. Where sources disagree the pessimistic figure stands. A part whose outputs or inputs are
stronger or heavier than its family's says so by figures of its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from latchwork.chips.figures import remembered, stated
from latchwork.parts import Figure, Floating, Part


class Technology(Enum):
    BIPOLAR = "bipolar"
    CMOS = "CMOS"


@dataclass(frozen=True)
class Family:
    """A logic family. ``name`` stands in part names ("" for standard TTL); ``supply`` is least and most, in volts."""

    name: str
    title: str
    technology: Technology
    supply: tuple[float, float]
    figures: tuple[Figure, ...]

    @property
    def floating(self) -> Floating:
        """Open bipolar inputs read high; open CMOS inputs anything."""
        return Floating.HIGH if self.technology is Technology.BIPOLAR else Floating.UNKNOWN

    @cached_property
    def figure(self) -> dict[str, Figure]:
        """The first figure of each quantity."""
        return {row.quantity: row for row in reversed(self.figures)}


def family_of(part: Part) -> Family | None:
    """The family of a part of the 74 series; None outside of it."""
    return FAMILIES.get(part.family) if part.name.startswith("74") else None


def family_named(name: str) -> Family:
    """The family with this name in part numbers. KeyError where there is none."""
    return FAMILIES[name]


_LS = "Fairchild DM74LS00 p.2; HD74LS161A p.4"
_LS_LOW = "Motorola SN54/74LS51 p.5-2; TI SN74LS165A SDLS062D p.7"
_HC = "ON MC74HC161A p.4; TI SN74HC574 SCLS148F; CD74HC273 SCHS174B"
_HCT = "Toshiba TC74HCT00AP p.3; Renesas HD74HCT245; TI CD74HCT14 p.4"
_AC = "Hitachi HD74AC283 p.5"
_F = "Motorola MC74F161A p.4-77; Philips N74F40; MC74F245 p.4-116"
_ALS = "Fairchild DM74ALS165 p.5; TI SN74ALS156 SDAS099C p.4; TI SN74ALS109A SDAS198B p.2, 3"
_S = "Fairchild DM74S157, DM74S158 p.3; DM74S51 p.2"
_ACT = "TI CD74ACT299 SCHS288A, static characteristics"
_HCT_RANGE = "TI CD74HCT4060 SCHS207A p.1; ST M74HCT367 p.1"
_UNIT_LOAD = "Motorola FAST AND LS TTL DATA (unit load 40 uA, 1.6 mA)"


def _volts(family: str, name: str, **value: float) -> Figure:
    return remembered(family, name, unit="V", **value)  # type: ignore[arg-type]


def _ttl_levels(family: str, output_high: float, output_low: float) -> tuple[Figure, ...]:
    """The levels common to the bipolar families, from memory."""
    return (
        _volts(family, "input high", minimum=2.0),
        _volts(family, "input low", maximum=0.8),
        _volts(family, "output high", minimum=output_high),
        _volts(family, "output low", maximum=output_low),
    )


def _supply(family: str, least: float, most: float) -> Figure:
    return remembered(family, "supply range", unit="V", minimum=least, maximum=most)


TTL = Family(
    "",
    "standard TTL",
    Technology.BIPOLAR,
    (4.75, 5.25),
    (
        *_ttl_levels("", 2.4, 0.4),
        stated("", "input current high", unit="uA", maximum=40, source=_UNIT_LOAD),
        stated("", "input current low", unit="mA", maximum=-1.6, source=_UNIT_LOAD),
        remembered("", "output current high", unit="mA", maximum=-0.4),
        remembered("", "output current low", unit="mA", maximum=16),
        _supply("", 4.75, 5.25),
    ),
)

LS = Family(
    "LS",
    "low-power Schottky TTL",
    Technology.BIPOLAR,
    (4.75, 5.25),
    (
        stated("LS", "input high", unit="V", minimum=2.0, source=_LS),
        stated("LS", "input low", unit="V", maximum=0.8, source=_LS),
        stated("LS", "output high", unit="V", minimum=2.7, typical=3.4, conditions="-0.4 mA", source=_LS),
        stated("LS", "output low", unit="V", maximum=0.5, conditions="8 mA", source=_LS),
        stated("LS", "output low", unit="V", maximum=0.4, conditions="4 mA", source=_LS),
        stated("LS", "input current high", unit="uA", maximum=20, conditions="2.7 V", source=_LS),
        stated("LS", "input current low", unit="mA", maximum=-0.4, conditions="0.4 V", source=_LS_LOW),
        stated("LS", "input current low", unit="mA", maximum=-0.36, conditions="0.4 V, DM74LS00", source=_LS),
        stated("LS", "output current high", unit="mA", maximum=-0.4, source=_LS),
        stated("LS", "output current low", unit="mA", maximum=8, source=_LS),
        stated("LS", "supply range", unit="V", minimum=4.75, maximum=5.25, source=_LS),
    ),
)

ALS = Family(
    "ALS",
    "advanced low-power Schottky TTL",
    Technology.BIPOLAR,
    (4.5, 5.5),
    (
        stated("ALS", "input high", unit="V", minimum=2.0, source=_ALS),
        stated("ALS", "input low", unit="V", maximum=0.8, source=_ALS),
        stated("ALS", "output high", unit="V", minimum=2.5, conditions="-0.4 mA, 4.5 V: VCC - 2 V", source=_ALS),
        stated("ALS", "output low", unit="V", maximum=0.5, conditions="8 mA", source=_ALS),
        stated("ALS", "output low", unit="V", maximum=0.4, conditions="4 mA", source=_ALS),
        stated("ALS", "input current high", unit="uA", maximum=20, conditions="2.7 V", source=_ALS),
        stated("ALS", "input current low", unit="mA", maximum=-0.1, conditions="0.4 V", source=_ALS),
        stated("ALS", "output current high", unit="mA", maximum=-0.4, source=_ALS),
        stated("ALS", "output current low", unit="mA", maximum=8, source=_ALS),
        stated("ALS", "supply range", unit="V", minimum=4.5, maximum=5.5, source=_ALS),
    ),
)

S = Family(
    "S",
    "Schottky TTL",
    Technology.BIPOLAR,
    (4.75, 5.25),
    (
        stated("S", "input high", unit="V", minimum=2.0, source=_S),
        stated("S", "input low", unit="V", maximum=0.8, source=_S),
        stated("S", "output high", unit="V", minimum=2.7, typical=3.4, conditions="-1 mA", source=_S),
        stated("S", "output low", unit="V", maximum=0.5, conditions="20 mA", source=_S),
        stated("S", "input current high", unit="uA", maximum=50, conditions="2.7 V", source=_S),
        stated("S", "input current low", unit="mA", maximum=-2.0, conditions="0.5 V", source=_S),
        stated("S", "output current high", unit="mA", maximum=-1.0, source=_S),
        stated("S", "output current low", unit="mA", maximum=20, source=_S),
        stated("S", "supply range", unit="V", minimum=4.75, maximum=5.25, source=_S),
    ),
)

F = Family(
    "F",
    "fast Schottky TTL",
    Technology.BIPOLAR,
    (4.5, 5.5),
    (
        stated("F", "input high", unit="V", minimum=2.0, source=_F),
        stated("F", "input low", unit="V", maximum=0.8, source=_F),
        stated("F", "output high", unit="V", minimum=2.5, conditions="-1 mA, 4.5 V", source=_F),
        stated("F", "output high", unit="V", minimum=2.7, conditions="-1 mA, 4.75 V", source=_F),
        stated("F", "output low", unit="V", maximum=0.5, conditions="20 mA", source=_F),
        stated("F", "input current high", unit="uA", maximum=20, conditions="2.7 V", source=_F),
        stated("F", "input current low", unit="mA", maximum=-0.6, conditions="0.5 V", source=_F),
        stated("F", "output current high", unit="mA", maximum=-1.0, source=_F),
        stated("F", "output current low", unit="mA", maximum=20, source=_F),
        stated("F", "supply range", unit="V", minimum=4.5, maximum=5.5, source="Motorola MC54/74F109 p.4-43"),
    ),
)

HC = Family(
    "HC",
    "high-speed CMOS",
    Technology.CMOS,
    (2.0, 6.0),
    (
        stated("HC", "input high", unit="V", minimum=3.15, conditions="4.5 V", source=_HC),
        stated("HC", "input low", unit="V", maximum=1.35, conditions="4.5 V", source=_HC),
        stated("HC", "output high", unit="V", minimum=3.98, conditions="-4 mA, 4.5 V, 25 degC", source=_HC),
        stated("HC", "output high", unit="V", minimum=4.4, conditions="-20 uA, 4.5 V", source=_HC),
        stated("HC", "output low", unit="V", maximum=0.33, conditions="4 mA, 85 degC", source=_HC),
        stated("HC", "output low", unit="V", maximum=0.26, conditions="4 mA, 25 degC", source=_HC),
        stated("HC", "output low", unit="V", maximum=0.1, conditions="20 uA", source=_HC),
        stated("HC", "input current high", unit="uA", maximum=0.1, conditions="6 V, 25 degC (1 at 85)", source=_HC),
        stated("HC", "input current low", unit="uA", maximum=-0.1, conditions="6 V, 25 degC (1 at 85)", source=_HC),
        stated("HC", "output current high", unit="mA", maximum=-4, conditions="at 3.98 V", source=_HC),
        stated("HC", "output current low", unit="mA", maximum=4, conditions="at 0.26 V", source=_HC),
        stated("HC", "supply current", unit="uA", maximum=4, conditions="at rest, 6 V, 25 degC, MSI", source=_HC),
        stated("HC", "supply range", unit="V", minimum=2.0, maximum=6.0, source="Renesas HD74HC133 Rev.2.00 p.3"),
    ),
)

HCT = Family(
    "HCT",
    "high-speed CMOS with TTL input levels",
    Technology.CMOS,
    (4.5, 5.5),
    (
        stated("HCT", "input high", unit="V", minimum=2.0, conditions="4.5 to 5.5 V", source=_HCT),
        stated("HCT", "input low", unit="V", maximum=0.8, conditions="4.5 to 5.5 V", source=_HCT_RANGE),
        stated("HCT", "output high", unit="V", minimum=4.18, conditions="-4 mA, 4.5 V, 25 degC", source=_HCT),
        stated("HCT", "output high", unit="V", minimum=4.4, conditions="-20 uA, 4.5 V", source=_HCT),
        stated("HCT", "output low", unit="V", maximum=0.26, conditions="4 mA, 25 degC", source=_HCT),
        stated("HCT", "input current high", unit="uA", maximum=0.1, source=_HCT),
        stated("HCT", "input current low", unit="uA", maximum=-0.1, source=_HCT),
        stated("HCT", "output current high", unit="mA", maximum=-4, conditions="at 4.18 V", source=_HCT),
        stated("HCT", "output current low", unit="mA", maximum=4, conditions="at 0.26 V", source=_HCT),
        stated("HCT", "supply current", unit="uA", maximum=1, conditions="at rest, 25 degC, gates", source=_HCT),
        stated("HCT", "supply range", unit="V", minimum=4.5, maximum=5.5, source=_HCT_RANGE),
    ),
)

AC = Family(
    "AC",
    "advanced CMOS",
    Technology.CMOS,
    (2.0, 6.0),
    (
        stated("AC", "input high", unit="V", minimum=3.15, conditions="4.5 V", source=_AC),
        _volts("AC", "input low", maximum=1.35),
        stated("AC", "output high", unit="V", minimum=3.94, conditions="-24 mA, 4.5 V, 25 degC", source=_AC),
        stated("AC", "output low", unit="V", maximum=0.32, conditions="24 mA, 25 degC", source=_AC),
        stated("AC", "input current high", unit="uA", maximum=0.1, conditions="25 degC", source=_AC),
        stated("AC", "input current low", unit="uA", maximum=-0.1, conditions="25 degC", source=_AC),
        stated("AC", "output current high", unit="mA", maximum=-24, conditions="at 3.94 V", source=_AC),
        stated("AC", "output current low", unit="mA", maximum=24, conditions="at 0.32 V", source=_AC),
        _supply("AC", 2.0, 6.0),
    ),
)


def _cmos(name: str, title: str, supply: tuple[float, float], *, ttl_inputs: bool, drive: float, high: float) -> Family:
    """A CMOS family whose figures are from memory. ``drive``: output current in mA, ``high``: level at it."""
    figures = (
        _volts(name, "input high", minimum=2.0 if ttl_inputs else 3.15),
        _volts(name, "input low", maximum=0.8 if ttl_inputs else 1.35),
        _volts(name, "output high", minimum=high),
        _volts(name, "output low", maximum=0.44),
        remembered(name, "input current high", unit="uA", maximum=1),
        remembered(name, "input current low", unit="uA", maximum=-1),
        remembered(name, "output current high", unit="mA", maximum=-drive),
        remembered(name, "output current low", unit="mA", maximum=drive),
        _supply(name, *supply),
    )
    return Family(name, title, Technology.CMOS, supply, figures)


ACT = Family(
    "ACT",
    "advanced CMOS with TTL input levels",
    Technology.CMOS,
    (4.5, 5.5),
    (
        stated("ACT", "input high", unit="V", minimum=2.0, conditions="4.5 to 5.5 V", source=_ACT),
        stated("ACT", "input low", unit="V", maximum=0.8, conditions="4.5 to 5.5 V", source=_ACT),
        stated("ACT", "output high", unit="V", minimum=3.8, conditions="-24 mA, 4.5 V, 85 degC", source=_ACT),
        stated("ACT", "output high", unit="V", minimum=3.94, conditions="-24 mA, 4.5 V, 25 degC", source=_ACT),
        stated("ACT", "output low", unit="V", maximum=0.44, conditions="24 mA, 4.5 V, 85 degC", source=_ACT),
        stated("ACT", "output low", unit="V", maximum=0.36, conditions="24 mA, 4.5 V, 25 degC", source=_ACT),
        stated("ACT", "input current high", unit="uA", maximum=1, conditions="5.5 V, 85 degC (0.1 at 25)", source=_ACT),
        stated("ACT", "input current low", unit="uA", maximum=-1, conditions="5.5 V, 85 degC (0.1 at 25)", source=_ACT),
        stated("ACT", "output current high", unit="mA", maximum=-24, conditions="at 3.8 V", source=_ACT),
        stated("ACT", "output current low", unit="mA", maximum=24, conditions="at 0.44 V", source=_ACT),
        stated("ACT", "supply range", unit="V", minimum=4.5, maximum=5.5, source=_ACT),
    ),
)
AHC = _cmos("AHC", "advanced high-speed CMOS", (2.0, 5.5), ttl_inputs=False, drive=8, high=3.8)
AHCT = _cmos("AHCT", "advanced high-speed CMOS with TTL input levels", (4.5, 5.5), ttl_inputs=True, drive=8, high=3.8)


def _low_voltage() -> Family:
    """LVC: made for 3.3 V, not for 5 V; its levels are those at 3.0 V."""
    figures = (
        _volts("LVC", "input high", minimum=2.0),
        _volts("LVC", "input low", maximum=0.8),
        _volts("LVC", "output high", minimum=2.2),
        _volts("LVC", "output low", maximum=0.55),
        remembered("LVC", "input current high", unit="uA", maximum=5),
        remembered("LVC", "input current low", unit="uA", maximum=-5),
        remembered("LVC", "output current high", unit="mA", maximum=-24, conditions="3 V"),
        remembered("LVC", "output current low", unit="mA", maximum=24, conditions="3 V"),
        _supply("LVC", 1.65, 3.6),
    )
    return Family("LVC", "low-voltage CMOS", Technology.CMOS, (1.65, 3.6), figures)


LVC = _low_voltage()

FAMILIES = {family.name: family for family in (TTL, LS, ALS, S, F, HC, HCT, AC, ACT, AHC, AHCT, LVC)}
