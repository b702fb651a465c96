"""The parts of a board that are no chips: what stands for them in a netlist. How they act is the oracle's business."""

from __future__ import annotations

import pytest
from published import entry_of

from latchwork.parts import Direction, Floating, TieKind, TimerKind


@pytest.mark.parametrize(
    ("number", "kind", "parameter", "output"),
    [
        ("crystal oscillator", TimerKind.OSCILLATOR, "period", "OUT"),
        ("oscillator", TimerKind.OSCILLATOR, "period", "OUT"),
        ("pulse", TimerKind.PULSE, "width", "OUT"),
        ("delay", TimerKind.DELAY, "time", "OUT"),
        ("hand clock", TimerKind.HAND, "", "OUT"),
        ("reset supervisor", TimerKind.STARTUP, "hold", "RESET_n"),
    ],
)
def test_sources_show_a_timer(number: str, kind: TimerKind, parameter: str, output: str) -> None:
    behaviour = entry_of(number).behaviour
    (timer,), (drive,) = behaviour.timers, behaviour.drives
    assert (timer.kind, timer.time, drive.port) == (kind, parameter, output)
    assert drive.value.data == timer.name


@pytest.mark.parametrize(
    ("number", "kind"), [("switch", TieKind.SWITCH), ("button", TieKind.SWITCH), ("resistor", TieKind.RESISTOR)]
)
def test_two_ends_are_tied(number: str, kind: TieKind) -> None:
    entry = entry_of(number)
    (tie,) = entry.behaviour.ties
    assert (tie.kind, tie.a, tie.b) == (kind, "A", "B")
    assert {pin.direction for pin in entry.pins} == {Direction.PASSIVE}


def test_board_parts_have_their_bare_name() -> None:
    for number in ("LED", "resistor", "switch", "button", "crystal oscillator", "bus keeper"):
        assert entry_of(number).in_family("", Floating.UNKNOWN).name == number


def test_an_oscillator_can_has_its_legs_at_the_corners() -> None:
    """GND 7, OUT 8, VCC 14 of a 14-pin outline (common practice)."""
    pins = {pin.name: pin.number for pin in entry_of("crystal oscillator").pins}
    assert pins == {"NC": 1, "GND": 7, "OUT": 8, "VCC": 14}
