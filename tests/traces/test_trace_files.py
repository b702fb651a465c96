"""Traces written and read back; `vcdvcd`, a reader that nobody here wrote, reads every file that is written."""

from contextlib import suppress
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from vcdvcd import VCDVCD

from latchwork.problems import LatchworkError
from latchwork.traces import Change, Recorder, Signal, Trace
from latchwork.traces.table import from_csv, to_csv
from latchwork.traces.vcd import from_vcd, to_vcd

NAMES = ("clock", "data[3]", "acc", "ram_address", "é 1")


@st.composite
def signals(draw: st.DrawFn, name: str) -> Signal:
    width = draw(st.integers(1, 20))
    times = sorted({0} | draw(st.sets(st.integers(1, 10**6), max_size=8)))
    changes: list[Change] = []
    for time_ps in times:
        levels = "".join(draw(st.lists(st.sampled_from("01xz"), min_size=width, max_size=width)))
        if not changes or changes[-1].levels != levels:
            changes.append(Change(time_ps, levels))
    return Signal(name, width, tuple(changes))


traces = st.builds(
    lambda found, end: Trace(tuple(found), 10**6 + end), st.tuples(*map(signals, NAMES[:4])), st.integers(0, 1000)
)


@given(traces)
def test_vcd_reads_back(trace: Trace) -> None:
    assert from_vcd(to_vcd(trace)) == trace


@given(traces)
def test_csv_reads_back(trace: Trace) -> None:
    assert from_csv(to_csv(trace)) == trace


@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(trace=traces)
def test_vcdvcd_reads_the_same(tmp_path: Path, trace: Trace) -> None:
    (tmp_path / "t.vcd").write_bytes(to_vcd(trace, "dunlin"))
    read = VCDVCD(str(tmp_path / "t.vcd"))
    assert read.timescale["timescale"] == Decimal("1e-12")
    for signal in trace.signals:
        seen = read[f"dunlin.{signal.name}"]
        assert int(seen.size) == signal.width
        assert [(time, levels.rjust(signal.width, "0")) for time, levels in seen.tv] == list(signal.changes)


def test_same_trace_same_bytes() -> None:
    trace = Trace((Signal("acc", 2, (Change(0, "0x"), Change(500, "10"))),), 1000)
    assert to_vcd(trace) == (
        b"$timescale 1 ps $end\n$version Latchwork $end\n$scope module machine $end\n$var wire 2 ! acc $end\n"
        b"$upscope $end\n$enddefinitions $end\n#0\n$dumpvars\nb0x !\n$end\n#500\nb10 !\n#1000\n"
    )


def test_names_that_do_not_fit_are_made_to() -> None:
    read = from_vcd(to_vcd(Trace((Signal("é 1", 1, (Change(0, "1"),)),), 1)))
    assert [signal.name for signal in read.signals] == ["?_1"]


def test_vcd_of_others() -> None:
    # IEEE 1364: vectors are filled up on the left, several names may share a code.
    text = b"""$timescale 10 ns $end $scope module top $end $var reg 4 % count $end $var wire 4 % also $end
    $upscope $end $enddefinitions $end #2 b10 % #3 bx %"""
    trace = from_vcd(text)
    assert trace.signal("count").changes == (Change(20_000, "0010"), Change(30_000, "xxxx"))
    assert trace.signal("also").changes == trace.signal("count").changes
    assert trace.signal("also").number_at(25_000) == 2
    assert trace.signal("also").number_at(30_000) is None


class Counter:
    """Something to record: time and nets of our own making."""

    time_ps = 0

    def value(self, net: int) -> int:
        return (self.time_ps // 10 >> net) & 1 if net < 2 else 3


def test_recorder_keeps_changes_only() -> None:
    source = Counter()
    recorder = Recorder(source, {"count": [0, 1], "open": [2]})
    for source.time_ps in (5, 10, 10, 20, 25):
        recorder.sample()
    trace = recorder.trace()
    assert trace.signal("count").changes == (Change(0, "00"), Change(10, "01"), Change(20, "10"))
    assert trace.signal("open").changes == (Change(0, "z"),)
    assert trace.end_ps == 25


BAD_TABLES = [
    (b"", 'a.csv:1: R302 this is not a table of a trace: the first line has to begin with "time_ps"'),
    (b"time_ps,a\nx,1\n", 'a.csv:2: R302 this is not a table of a trace: "x" is no time in whole picoseconds'),
    (
        b"time_ps,a\n5,1\n5,0\n",
        "a.csv:3: R302 this is not a table of a trace: time 5 does not lie after 5, the time of the line above",
    ),
    (
        b"time_ps,a\n5,1,1\n",
        "a.csv:2: R302 this is not a table of a trace: 2 signals stand here, the first line names 1",
    ),
    (
        b"time_ps,a/2\n5,1\n",
        'a.csv:2: R302 this is not a table of a trace: "1" is no value of a, which has 2 of the letters 0, 1, x, z',
    ),
]


@pytest.mark.parametrize(("content", "message"), BAD_TABLES)
def test_messages_of_tables(content: bytes, message: str) -> None:
    with pytest.raises(LatchworkError) as raised:
        from_csv(content, "a.csv")
    assert str(raised.value) == message


BAD_DUMPS = [
    (
        b"hello",
        "a.vcd:1: R301 this is not a value change dump: its head does not end with $enddefinitions",
    ),
    (b"$var wire 1 ! a $end #x", "a.vcd:1:23: R301 this is not a value change dump: Expected decimal value"),
]


@pytest.mark.parametrize(("content", "message"), BAD_DUMPS)
def test_messages_of_dumps(content: bytes, message: str) -> None:
    with pytest.raises(LatchworkError) as raised:
        from_vcd(content, "a.vcd")
    assert str(raised.value) == message


@given(st.binary(max_size=200) | st.text("$var wire1!a#b0xz\nend ", max_size=80).map(str.encode))
def test_any_bytes_give_a_trace_or_a_problem(content: bytes) -> None:
    for read in (from_vcd, from_csv):
        with suppress(LatchworkError):
            assert isinstance(read(content, "a"), Trace)
