"""Worked examples of books and sheets, and small circuits whose answer is a sum.

Sources stand at each test. Figures are given to the chips as the example has them, so that nothing of the catalogue
plays a part.
"""

from __future__ import annotations

import pytest
from weighed import clocked, row, with_figures

from latchwork import HIGH, LOW, OPEN, Machine, pull_up
from latchwork.analysis.arrival.loads import Boards
from latchwork.analysis.arrival.times import Corner


def state_machine(flip_flop: str = "175", gate: str = "and") -> Machine:
    """A bit that a gate makes from itself and another: register, gate, register."""
    m = Machine("states", family="LS")
    clock = m.clock(1_000_000)
    q = m.bus("q", 2)
    d = m.gate(gate, q[0], q[1])
    m.chip(
        flip_flop, CLK=clock, CLR_n=HIGH, D=[d, q[0], LOW, LOW], Q=[*q, OPEN, OPEN], Q_n=[OPEN] * 4
    )  # fmt: skip
    return m


def test_the_state_machine_of_a_textbook() -> None:
    """Digital Logic Design, p. 132: 74LS175 and 74LS08, 42 + 18 + 0 + 20 = 80 ns, 12.5 MHz."""
    figures = {
        "74LS175": (
            row("LS", "delay", "CLK", "Q", maximum=42),
            row("LS", "setup", "D", "CLK", minimum=20),
            row("LS", "hold", "D", "CLK", minimum=0),
        ),
        "74LS08": (row("LS", "delay", "A", "Y", maximum=18), row("LS", "delay", "B", "Y", maximum=18)),
    }
    limit = clocked(with_figures(state_machine(), figures)).limits[0]
    assert limit.period == 80_000
    assert 1e6 / limit.period == 12.5


def test_a_gate_between_flip_flops() -> None:
    """A worked example in a physics forum (thread 547796): 7 + 6 + 5 = 18 ns, 55.6 MHz."""
    figures = {
        "74LS175": (row("LS", "delay", "CLK", "Q", maximum=7), row("LS", "setup", "D", "CLK", minimum=5)),
        "74LS08": (row("LS", "delay", "A", "Y", maximum=6), row("LS", "delay", "B", "Y", maximum=6)),
    }
    limit = clocked(with_figures(state_machine(), figures)).limits[0]
    assert limit.period == 18_000
    assert round(1e6 / limit.period, 1) == 55.6


def adder(bits: int) -> Machine:
    """'181 slices in sum mode between registers, the carry rippling from one to the next."""
    m = Machine("adder", family="LS")
    clock = m.clock(1_000_000)
    a, b, sums = m.bus("a", bits), m.bus("b", bits), m.bus("sums", bits)
    sink = m.bus("sink", bits)
    carry = HIGH
    for low in range(0, bits, 4):
        at = slice(low, low + 4)
        alu = m.chip(
            "181", A=a[at], B=b[at], S=[HIGH, LOW, LOW, HIGH], M=LOW, Cn=carry, F=sums[at], P_n=OPEN, G_n=OPEN, AB=OPEN
        )
        carry = alu.Cn4
    for low in range(0, bits, 8):
        at = slice(low, min(low + 8, bits))
        rest = [LOW] * (8 - len(a[at]))
        gone = [OPEN] * len(rest)
        m.chip("377", CLK=clock, G_n=LOW, D=[*sums[at], *rest], Q=[*sink[at], *gone])
        m.chip("377", CLK=clock, G_n=LOW, D=[*sink[at], *rest], Q=[*a[at], *gone])
        m.chip("377", CLK=clock, G_n=LOW, D=[*sink[at], *rest], Q=[*b[at], *gone])
    return m


IDEAL_REGISTER = (
    row("LS", "delay", "CLK", "Q", typical=0, maximum=0),
    row("LS", "setup", "D", "CLK", minimum=0),
    row("LS", "setup", "G_n", "CLK", minimum=0),
)


def sum_figures() -> tuple:  # type: ignore[type-arg]
    """NTE74LS181 p. 3, sum mode, typical; both edges of Cn to F as their mean, as the addition times reckon."""
    inputs = [name + digit for name in "AB" for digit in "0123"]
    return (
        *(row("LS", "delay", name, "Cn4", typical=25) for name in inputs),
        *(row("LS", "delay", name, "F", typical=24) for name in inputs),
        row("LS", "delay", "Cn", "Cn4", typical=15.5),
        row("LS", "delay", "Cn", "F", typical=15),
    )


@pytest.mark.parametrize(("bits", "nanoseconds"), [(4, 24), (8, 40)])
def test_addition_times_of_the_181(bits: int, nanoseconds: float) -> None:
    """SN54/74LS181, table of typical addition times: 1 to 4 bits 24 ns, 5 to 8 bits 40 ns with the carry rippling
    (table from memory; 25 + 15 = 40 from NTE74LS181 p. 3)."""
    figures = {"74LS377": IDEAL_REGISTER, "74LS181": sum_figures()}
    limit = clocked(with_figures(adder(bits), figures), Corner.TYPICAL).limits[0]
    assert limit.period == nanoseconds * 1000


def test_counters_in_cascade() -> None:
    """Nexperia 74HC163, Rev. 3, section 1: fmax = 1 / (tP(max)(CP to TC) + tSU(CEP to CP))."""
    m = Machine("count", family="HC")
    clock = m.clock(1_000_000)
    first = m.chip(
        "163", CLK=clock, CLR_n=HIGH, LOAD_n=HIGH, P=[LOW] * 4, ENP=HIGH, ENT=HIGH, Q=[OPEN] * 4
    )  # fmt: skip
    m.chip(
        "163", CLK=clock, CLR_n=HIGH, LOAD_n=HIGH, P=[LOW] * 4, ENP=first.RCO, ENT=HIGH, Q=[OPEN] * 4, RCO=OPEN
    )  # fmt: skip
    for to_carry, enable in [(37.0, 35.0), (43.0, 20.0), (62.5, 17.5)]:
        figures = {
            "74HC163": (
                row("HC", "delay", "CLK", "RCO", maximum=to_carry),
                row("HC", "delay", "CLK", "Q", maximum=to_carry - 10),
                row("HC", "setup", "ENP", "CLK", minimum=enable),
                row("HC", "setup", "ENT", "CLK", minimum=1),
            )
        }
        assert clocked(with_figures(m, figures)).limits[0].period == (to_carry + enable) * 1000


def test_the_half_period_between_edges() -> None:
    """Data launched by one edge and taken at the other have what lies between (common practice): with the clock high
    for a share h, (10 + 5) / h one way and (10 + 5) / (1 - h) the other."""
    m = Machine("edges", family="LS")
    clock = m.clock(1_000_000)
    fall = m.gate("inverter", clock)
    q = m.bus("q", 2)
    for number, edge in enumerate((clock, fall)):
        m.chip(
            "175", label=f"r{number}", CLK=edge, CLR_n=HIGH, D=[q[1 - number], LOW, LOW, LOW],
            Q=[q[number], OPEN, OPEN, OPEN], Q_n=[OPEN] * 4,
        )  # fmt: skip
    figures = {
        "74LS175": (row("LS", "delay", "CLK", "Q", maximum=10), row("LS", "setup", "D", "CLK", minimum=5)),
        "74LS04": (row("LS", "delay", "A", "Y", minimum=0, typical=0, maximum=0),),
    }
    netlist = with_figures(m, figures)
    assert clocked(netlist).limits[0].period == 30_000
    assert clocked(netlist, high=0.25).limits[0].period == 60_000
    assert {limit.period for limit in clocked(netlist, high=0.75).limits[:2]} == {60_000}


def test_skew_counts_as_much_as_its_gates_differ() -> None:
    """A register behind a slow gate in its clock launches late, and takes its data at the earliest that its gate
    allows; behind one gate both, the gate cancels out (common practice)."""
    for shared, period in [(False, 10 + 40 + 5 + 0), (True, 10 + 5)]:
        m = Machine("skew", family="LS")
        clock = m.clock(1_000_000)
        late = m.gate("or", clock, LOW)
        q = m.net("q")
        m.chip(
            "175", label="from", CLK=late, CLR_n=HIGH, D=[LOW, q if shared else LOW, LOW, LOW],
            Q=[q, OPEN, OPEN, OPEN], Q_n=[OPEN] * 4,
        )  # fmt: skip
        if not shared:
            m.chip("175", label="to", CLK=clock, CLR_n=HIGH, D=[q, LOW, LOW, LOW], Q=[OPEN] * 4, Q_n=[OPEN] * 4)
        figures = {
            "74LS175": (row("LS", "delay", "CLK", "Q", maximum=10), row("LS", "setup", "D", "CLK", minimum=5)),
            "74LS32": tuple(row("LS", "delay", pin, "Y", minimum=3, typical=20, maximum=40) for pin in "AB"),
        }
        assert clocked(with_figures(m, figures)).limits[0].period == period * 1000


def test_a_hold_that_is_too_short() -> None:
    """Hold slack = shortest way - skew - hold (textbooks of digital design; common practice): 4 - 9 - 2 = -7 ns where
    the second register's clock comes late."""
    m = Machine("hold", family="LS")
    clock = m.clock(1_000_000)
    late = m.gate("or", clock, LOW)
    q = m.net("q")
    m.chip("175", label="from", CLK=clock, CLR_n=HIGH, D=[LOW] * 4, Q=[q, OPEN, OPEN, OPEN], Q_n=[OPEN] * 4)
    m.chip("175", label="to", CLK=late, CLR_n=HIGH, D=[q, LOW, LOW, LOW], Q=[OPEN] * 4, Q_n=[OPEN] * 4)
    figures = {
        "74LS175": (row("LS", "delay", "CLK", "Q", maximum=4), row("LS", "hold", "D", "CLK", minimum=2)),
        "74LS32": tuple(row("LS", "delay", pin, "Y", maximum=9) for pin in "AB"),
    }
    slack = clocked(with_figures(m, figures)).hold_slacks[0]
    assert (slack.slack, slack.arrival, slack.clock) == (-7_000, 4_000, 9_000)


def test_a_load_slows_an_output_as_the_sheet_says() -> None:
    """Fairchild DM74LS00: 10 ns at 15 pF, 15 ns at 50 pF. Ten inputs of 4.4 pF and eleven contacts of 1 pF and wires of
    0 pF make 55 pF, 40 pF more than 15: 40 * 0.143 = 5.7 ns more."""
    m = Machine("load", family="LS")
    clock = m.clock(1_000_000)
    q, y = m.net("q"), m.net("y")
    m.gate("nand", q, HIGH, out=y)
    m.chip("175", CLK=clock, CLR_n=HIGH, D=[y, LOW, LOW, LOW], Q=[q, OPEN, OPEN, OPEN], Q_n=[OPEN] * 4)
    for _ in range(9):
        m.gate("inverter", y)
    delays = tuple(row("LS", "delay", pin, "Y", maximum=10) for pin in "AB")
    figures = {
        "74LS175": (row("LS", "delay", "CLK", "Q", maximum=0), row("LS", "setup", "D", "CLK", minimum=0)),
        "74LS00": delays,
    }
    boards = Boards(pin=(4.4, 4.4), contact=1, wire=0)
    limit = clocked(with_figures(m, figures), boards=boards).limits[0]
    assert limit.period == 10_000 + 143 * 40


def test_an_open_collector_rises_with_its_pull() -> None:
    """ln 2 R C to half the supply: 0.7 * 1 kilohm * 100 pF = 70 ns (common practice); it falls as the sheet says."""
    m = Machine("pulled", family="LS")
    clock = m.clock(1_000_000)
    q, y = m.net("q"), m.net("y", idle=pull_up("1k"))
    m.chip("05", A1=q, Y1=y)
    m.chip("175", CLK=clock, CLR_n=HIGH, D=[y, LOW, LOW, LOW], Q=[q, OPEN, OPEN, OPEN], Q_n=[OPEN] * 4)
    figures = {
        "74LS175": (row("LS", "delay", "CLK", "Q", maximum=0), row("LS", "setup", "D", "CLK", minimum=0)),
        "74LS05": (row("LS", "delay", "A", "Y", maximum=12),),
    }
    found = clocked(with_figures(m, figures), boards=Boards(pin=(0, 0), contact=100 / 3, wire=0))
    periods = sorted(limit.period for limit in found.limits if limit.arrival)
    before = 143 * (200 / 3 - 15)  # q has two pins
    assert periods[0] == pytest.approx(before + 12_000 + 143 * 85, abs=2)
    assert periods[-1] == pytest.approx(before + 12_000 + 70_000, abs=2)
