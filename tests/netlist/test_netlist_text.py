"""The text form of netlists: round trip byte for byte; no text, however spoilt, gives a traceback."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from netlists import PARTS, netlists

from latchwork import Machine
from latchwork.netlist import Board, Chip, Net, Netlist
from latchwork.netlist.text import HEADER, parsed, written
from latchwork.netlist.verify import verify
from latchwork.problems import LatchworkError


def small():
    m = Machine("wren")
    m.power_on_reset()
    clock = m.clock("1M")
    with m.board("sequencer", title="Steps"):
        m.gate("nand", clock, m.line("go_n", phase={clock: 0}))
    return m.netlist()


SMALL = written(small())


@settings(deadline=None)
@given(netlists())
def test_round_trip(netlist):
    assert verify(netlist) == ()
    text = written(netlist)
    again = parsed(text)
    assert again == netlist
    assert written(again) == text


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_every_part_of_the_catalogue_round_trips(part):
    times = tuple((timer.time, 1000) for timer in part.behaviour.timers)
    only = Chip("U1", 0, (-1,) * len(part.pins), 0, parameters=times)
    netlist = Netlist("one", "", 5000, (part,), (Net("l"), Net("h")), (only,), (Board("b"),), (), 1, 0)
    assert parsed(written(netlist)).parts == (part,)


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_spoilt_text_gives_a_netlist_or_problems(data):
    at = data.draw(st.integers(0, len(SMALL)))
    end = data.draw(st.integers(at, min(at + 30, len(SMALL))))
    instead = data.draw(st.one_of(st.text("()[]\"=/ \n0123456789abn-'.:", max_size=8), st.text(max_size=4)))
    read_or_refused(SMALL[:at] + instead + SMALL[end:])


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_lines_in_disorder_give_a_netlist_or_problems(data):
    lines = SMALL.split("\n")
    a, b = (data.draw(st.integers(1, len(lines) - 1)) for _ in range(2))
    lines[a], lines[b] = lines[b], lines[a]
    if data.draw(st.booleans()):
        del lines[a]
    read_or_refused("\n".join(lines))


@given(st.text(max_size=200))
def test_any_text_below_the_header(text):
    read_or_refused(HEADER + "\n" + text)


def read_or_refused(text):
    """A text that is taken is a sound netlist, and what it is written as reads back as the same."""
    try:
        netlist = parsed(text, "spoilt.net")
    except LatchworkError:
        return
    assert verify(netlist) == ()
    assert parsed(written(netlist)) == netlist


def changed(old, new):
    assert old in SMALL
    return SMALL.replace(old, new, 1)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", f'wren.net:1:1: M210 the first line is "", not "{HEADER}" (save the netlist anew with this version)'),
        (HEADER + "\n", "wren.net:2:1: M210 one netlist is expected below the first line"),
        (HEADER + "\nNETLIST\n", "wren.net:2:1: M211 the line does not begin with a keyword"),
        (HEADER + "\n  netlist\n", "wren.net:2:1: M211 the line stands too far to the right"),
        (HEADER + "\nnetlist\n", 'wren.net:2: M212 netlist lacks its field "name"'),
        (changed("supply_millivolts", "suply_millivolts"),
         'wren.net:2: M212 netlist has no field "suply_millivolts" (did you mean "supply_millivolts"?)'),
        (changed("high=1", 'high="1"'), "wren.net:2: M212 netlist high: a word without quotes is expected"),
        (changed("high=1", "high=one"), 'wren.net:2: M212 netlist high: "one" is no int'),
        (changed("high=1", "high=[1"), "wren.net:2:68: M212 a list does not end"),
        (changed('name="wren"', 'name="wren'), "wren.net:2:28: M212 a blank is expected"),
        (changed('name="wren"', "name="), "wren.net:2:14: M212 a value is expected"),
        (changed("high=1", "high=1 high=1"), 'wren.net:2:64: M212 "high" stands here twice'),
        (changed("    pin ", "    pan "), 'wren.net:4: M211 "pan" does not stand below part (did you mean "pin"?)'),
        (changed("direction=output", "direction=outwards"),
         "wren.net:4: M212 pin direction: 'outwards' is not a valid Direction"),
        (changed("value=ready/1", "value=(not 1 ready/2)"),
         "wren.net:8: M212 drive value: (not 1) does not take arguments of the widths [2]"),
        (changed("value=ready/1", "value=(not 1 ready/1"), "wren.net:8:34: M212 a bracket is not closed"),
        (changed("value=ready/1", "value=ready/99999999999"),
         "wren.net:8: M212 drive value: an expression is too wide"),
        (changed("value=ready/1", "value=late/1"),
         'M202 reset supervisor: the drive of "RESET_n" speaks of "late" of 1 bits, which the part lacks'),
        (changed("high=1", "high=0"), "M201 both rails are the same net"),
    ],
)  # fmt: skip
def test_message(text, message):
    with pytest.raises(LatchworkError) as caught:
        parsed(text, "wren.net")
    assert str(caught.value).split("\n")[0] == message
