"""Each invariant of the verifier, broken once."""

from dataclasses import replace

import pytest

from latchwork import Machine, pull_up
from latchwork.chips.catalogue import entries, find
from latchwork.logic import constant, read, variable
from latchwork.netlist.verify import verify
from latchwork.netlist.verify_part import verify_part
from latchwork.parts import Keeper, Latch, Level, Memory, Pin, Timer, TimerKind, Unit, Update, Write


def machine():
    m = Machine("wren")
    data = m.bus("data", 8, idle=pull_up())
    clock = m.clock("1M")
    m.chip("377", CLK=clock, G_n=m.line("go_n", phase={clock: 0}), D=data, label="hold")
    m.assume(clock, 0)
    return m.netlist()


SOUND = machine()


def test_a_described_machine_is_sound():
    assert verify(SOUND) == ()


def last_chip(**changes):
    return {"chips": (*SOUND.chips[:-1], replace(SOUND.chips[-1], **changes))}


def only_line(**changes):
    return {"lines": (replace(SOUND.lines[0], **changes),)}


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"nets": (*SOUND.nets[:-1], SOUND.nets[0])}, 'the net "LOW" is there twice'),
        ({"buses": SOUND.buses * 2}, 'the bus "data" is there twice'),
        ({"boards": SOUND.boards * 2}, 'the board "main" is there twice'),
        ({"lines": SOUND.lines * 2}, 'the line "go" is there twice'),
        ({"parts": (*SOUND.parts, SOUND.parts[0])}, 'the part "resistor" is there twice'),
        (last_chip(reference="X1"), 'the chip "X1" is there twice'),
        (last_chip(label="clock"), 'the label "clock" is there twice'),
        (last_chip(part=9), "U1 is of part 9, which does not exist"),
        (last_chip(board=-1), "U1 stands on board -1, which does not exist"),
        (last_chip(pins=SOUND.chips[-1].pins[1:]), "U1 has 19 pins, its part 74HCT377 20"),
        (last_chip(pins=(99, *SOUND.chips[-1].pins[1:])), "pin 0 of U1 is on net 99, which does not exist"),
        (last_chip(pins=(-2, *SOUND.chips[-1].pins[1:])), "pin 0 of U1 is on net -2, which does not exist"),
        (last_chip(left_open=(0,)), "pin 0 of U1 is left open on purpose and not open"),
        (last_chip(spare_units=("3",)), 'U1 has a spare unit "3", 74HCT377 has none such'),
        (
            {"chips": tuple(replace(chip, parameters=()) for chip in SOUND.chips)},
            'X1 needs a positive "period" in picoseconds for its timer "wave"',
        ),
        ({"high": 99}, "the rail high is net 99, which does not exist"),
        ({"low": SOUND.high}, "both rails are the same net"),
        ({"clock": 99}, "the clock is net 99, which does not exist"),
        ({"supply_millivolts": 0}, "the supply is 0 mV"),
        ({"buses": (replace(SOUND.buses[0], nets=()),)}, 'the bus "data" has no nets'),
        ({"buses": (replace(SOUND.buses[0], nets=(99,)),)}, 'the bus "data" has a net that does not exist'),
        (
            {"buses": (replace(SOUND.buses[0], idle="up"),)},
            'the bus "data" idles "up"; it is one of high, low, keep or nothing',
        ),
        (only_line(net=99), 'the line "go" speaks of a net that does not exist'),
        (only_line(phase=((99, 0),)), 'the line "go" speaks of a net that does not exist'),
        (only_line(rest=2), 'the line "go" has a level that is not 0 or 1'),
        (
            {"assumptions": SOUND.assumptions * 2},
            f"net {SOUND.clock} is assumed to be 0: no such net or level, or twice",
        ),
    ],
)
def test_broken_netlist(changes, message):
    assert message in [problem.message for problem in verify(replace(SOUND, **changes))]


@pytest.mark.parametrize("name", [entry.name_in(family) for entry in entries() for family in entry.families])
def test_every_part_of_the_catalogue_is_sound(name):
    assert verify_part(find(name)) == ()


PART = find("74HCT377")
BEHAVIOUR = PART.behaviour
one, wide, unheard = variable("CLK"), variable("D", 8), variable("elsewhere")


def behaving(**changes):
    return {"behaviour": replace(BEHAVIOUR, **changes)}


def register(**changes):
    return behaving(registers=(replace(BEHAVIOUR.registers[0], **changes),))


def drive(**changes):
    return behaving(drives=(replace(BEHAVIOUR.drives[0], **changes),))


def timer(**changes):
    return behaving(timers=(replace(Timer("wave", TimerKind.OSCILLATOR, time="period"), **changes),))


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"pins": (*PART.pins[:-1], PART.pins[0])}, "two pins have one name or number"),
        ({"vectors": (*PART.vectors, ("CLK", ("D1",)))}, "two ports have one name"),
        (
            {"vectors": (*PART.vectors, ("Z", ("D99",)))},
            'the vector "Z" has no pins, one twice, or one that the part lacks',
        ),
        ({"units": (Unit("1", (("A", "A1"),)),)}, 'the unit "1" has a port that the part lacks'),
        ({"family": "LS"}, "it has figures of another family"),
        (
            {"pins": (*PART.pins, Pin("a b", 99, PART.pins[0].direction, ""))},
            "a port or a state has a name that is no plain word",
        ),
        (register(name="D"), "two states have one name, or a state has the name of a port"),
        (drive(port="Z"), 'it drives "Z", which is no port'),
        (drive(value=one), 'the drive of "Q" has 1 bits instead of 8'),
        (drive(enable=one), 'the drive of "Q" is push-pull and has an enable'),
        (
            register(updates=(Update(unheard, wide),)),
            'the clock of the register "held" speaks of "elsewhere" of 1 bits, which the part lacks',
        ),
        (register(updates=(Update(one, one),)), 'the data of the register "held" has 1 bits instead of 8'),
        (register(levels=(Level(wide, wide),)), 'a level of the register "held" has 8 bits instead of 1'),
        (
            behaving(latches=(Latch("late", 1, wide, one),)),
            'the enable of the latch "late" has 8 bits instead of 1',
        ),
        (
            behaving(memories=(Memory("cells", 8, 4, (Write(one, wide, wide),)),)),
            'the address of the memory "cells" has 8 bits instead of 4',
        ),
        (
            behaving(memories=(Memory("cells", 8, 0),)),
            'the memory "cells" has words of 8 bits and 0 address bits',
        ),
        (
            drive(value=read("cells", wide, 8)),
            'the drive of "Q" reads 8 bits of a memory "cells", which the part lacks',
        ),
        (timer(trigger=one), 'the timer "wave" is of kind oscillator and has a trigger'),
        (timer(time=""), 'the timer "wave" is of kind oscillator and does not name its time'),
        (timer(kind=TimerKind.HAND), 'the timer "wave" is of kind hand and names its time'),
        (
            timer(kind=TimerKind.DELAY, trigger=constant(0, 2)),
            'the trigger of the timer "wave" has 2 bits instead of 1',
        ),
        (behaving(keepers=(Keeper("D"),)), 'a tie or keeper stands at "D", which is no port of one bit'),
    ],
)
def test_broken_part(changes, message):
    told = [problem.message for problem in verify_part(replace(PART, **changes))]
    assert f"74HCT377: {message}" in told
