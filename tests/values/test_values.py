"""Small sums against published formulas and values."""

from __future__ import annotations

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from latchwork.cli.main import run
from latchwork.problems import LatchworkError
from latchwork.reports.values import ValuesReport
from latchwork.tools.values.asking import asked
from latchwork.tools.values.series import E12, E24, amount, at_least, at_most, written


def found(report: ValuesReport) -> dict[str, float]:
    return {each.name: each.value for each in report.found}


def test_the_555_as_its_sheets_have_it() -> None:
    """f = 1.44 / ((RA + 2 RB) C) and t = 1.1 R C (data sheets of the 555): 1 kohm, 10 kohm, 1 uF is 68.6 Hz; 10 kohm
    and 100 uF is 1.1 s."""
    swings = found(asked("astable", ["ra=1k", "rb=10k", "c=1u"]))
    assert swings["frequency"] == pytest.approx(1.44 / 21_000e-6, rel=1e-9) == pytest.approx(68.57, abs=0.01)
    assert 1 / (swings["high time"] + swings["low time"]) == pytest.approx(swings["frequency"], rel=3e-3)
    assert swings["share high"] == pytest.approx(11 / 21)
    assert found(asked("pulse", ["r=10k", "c=100u"]))["pulse"] == pytest.approx(1.1)


def test_charging() -> None:
    """After one time constant 63.2 %, half after 0.693 (textbooks)."""
    times = found(asked("rc", ["r=10k", "c=100n"]))
    assert times["time constant"] == pytest.approx(1e-3)
    assert 1 - math.exp(-times["to half"] / times["time constant"]) == pytest.approx(0.5)
    assert times["corner frequency"] == pytest.approx(159.15, abs=0.01)
    waits = found(asked("reset", ["r=100k", "c=1u"]))
    assert waits["shortest"] == pytest.approx(-0.1 * math.log(0.62))
    assert waits["shortest"] < found(asked("rc", ["r=100k", "c=1u"]))["to half"] < waits["longest"]


def test_preferred_values() -> None:
    """IEC 60063: twelve and twenty-four a decade, each about the tenth root of its neighbours' ratio."""
    assert (len(E12), len(E24)) == (12, 24)
    assert set(E12) <= set(E24)
    for series in (E12, E24):
        for number, value in enumerate(series):
            assert value == pytest.approx(10 ** (number / len(series)), rel=0.06)


def test_a_lamp() -> None:
    """(5 - 2) V / 3 mA is 1 kohm; for 4.7 mA 638 ohm, so 680 of both series (textbooks)."""
    assert found(asked("lamp", []))["next of E12"] == 1000
    values = found(asked("lamp", ["current=4.7m"]))
    assert (values["next of E12"], values["next of E24"]) == (680, 680)
    assert values["power in the resistor"] == pytest.approx(9 / 680)
    assert found(asked("lamp", ["current=4.9m"]))["next of E24"] == 620


def test_a_pull() -> None:
    """Two LS inputs (0.8 mA, 40 uA) on one open collector of 8 mA: from 4.6 V / 7.2 mA to 2.6 V / 0.29 mA."""
    values = found(asked("pull", ["low=0.8m", "inputs=40u"]))
    assert values["least"] == pytest.approx(4.6 / 7.2e-3)
    assert values["most"] == pytest.approx(2.6 / 0.29e-3)
    assert (values["least of E12"], values["most of E12"]) == (680, 8200)
    assert asked("pull", ["low=7.9m", "inputs=20m"]).notes


def test_a_divider() -> None:
    """3.6864 MHz is 384 times 9600 Hz: the crystal of serial ports (common practice)."""
    values = found(asked("divider", ["crystal=3.6864M", "clock=9600"]))
    assert (values["ratio"], values["error with it"]) == (384, 0)
    values = found(asked("divider", ["crystal=4M", "clock=9600"]))
    assert values["nearest whole number"] == 417
    assert values["error with it"] == pytest.approx(-0.0008, abs=1e-4)
    assert found(asked("divider", ["crystal=32768", "clock=1"]))["flip-flops of a binary divider"] == 15


@given(st.floats(1e-3, 1e9))
def test_neighbours_in_a_series(value: float) -> None:
    for series, step in ((E12, 1.26), (E24, 1.16)):
        above, below = at_least(value, series), at_most(value, series)
        assert below <= value * (1 + 1e-6)
        assert value <= above * (1 + 1e-6)
        assert above / below < step
        assert at_least(above, series) == above == at_most(above, series)


@given(st.floats(1e-11, 1e10))
def test_amounts_are_read_as_they_are_written(value: float) -> None:
    text = written(value, "F")
    assert amount(text.replace(" ", "")) == pytest.approx(value, rel=1e-3)
    assert amount("4.7k") == 4700
    assert amount("4k7 or so") is None


def test_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["values", "astable", "ra=10k", "rb=47k", "c=10u"]) == 0
    assert capsys.readouterr().out.startswith("astable: ra 10 kohm, rb 47 kohm, c 10 uF\n  frequency   1.385 Hz\n")
    assert run(["values", "lamp", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["sum"] == "lamp"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["ohm"], 'R611 there is no sum "ohm" (there are astable, pulse, rc, reset, lamp, pull, divider)'),
        (["rc", "r=1k"], "R612 rc needs c (write them as c=...)"),
        (["rc", "q=1k"], 'R612 "q=1k" is no value of this sum (its values are r, c: write r=4.7k)'),
        (
            ["rc", "r=much"],
            'R613 "much" is no amount for r (write a number above 0, with p, n, u, m, k, M or G: 4.7k, 100n, 3m)',
        ),
        (["lamp", "supply=1"], "R613 lamp has no answer for supply=1 (look at the sizes of the values)"),
    ],
)
def test_what_cannot_be_done(words: list[str], said: str) -> None:
    with pytest.raises(LatchworkError) as caught:
        asked(words[0], words[1:])
    assert str(caught.value) == said
