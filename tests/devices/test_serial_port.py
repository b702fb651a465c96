"""The serial port on a bus: status, data, interrupt, times. Frame of ten bits: common practice of serial lines."""

from __future__ import annotations

import pytest
from bus_machine import Processor

pytestmark = pytest.mark.usefixtures("either_engine")

FREE = 0xFF  # what the pull-ups make of a data bus that nobody drives


def test_data_are_shown_while_it_is_read_and_let_go_after() -> None:
    p = Processor()
    assert p.simulation.read(p.data) == FREE
    assert p.read(1) == 0b10
    p.pause()
    assert p.simulation.read(p.data) == FREE


def test_a_byte_is_sent_after_ten_bit_times() -> None:
    p = Processor(rate=1_000_000)  # a byte takes ten microseconds, ten clocks
    p.write(0, ord("k"))
    p.pause(7)
    assert p.heard == b""
    p.pause(4)
    assert p.heard == b"k"


def test_one_byte_waits_while_another_is_sent() -> None:
    p = Processor()
    p.write(0, ord("a"))
    assert p.read(1) == 0b10
    p.write(0, ord("b"))
    assert p.read(1) == 0  # not ready
    p.pause(10)
    assert p.read(1) == 0b10
    p.pause(10)
    assert p.heard == b"ab"


def test_a_byte_written_while_one_waits_is_lost() -> None:
    p = Processor()
    for letter in b"abc":
        p.write(0, letter)
    p.pause(30)
    assert p.heard == b"ab"


def test_bytes_arrive_one_after_the_other() -> None:
    p = Processor()
    p.simulation.send("line", b"xy")
    p.pause(5)
    assert p.read(1) == 0b10
    p.pause(6)
    assert p.read(1) == 0b11
    assert p.read(0) == ord("x")
    assert p.read(1) == 0b10
    p.pause(10)
    assert p.read(0) == ord("y")


def test_a_byte_that_nobody_read_is_lost_and_the_status_says_so_once() -> None:
    p = Processor()
    p.simulation.send("line", b"xyz")
    p.pause(25)
    assert p.read(1) == 0b111
    assert p.read(1) == 0b011
    assert p.read(0) == ord("y")


def test_interrupts_are_requested_by_mask() -> None:
    p = Processor()
    irq = p.net["irq_n"]
    assert p.simulation.value(irq) == 1
    p.write(1, 0b01)
    p.simulation.send("line", b"x")
    p.pause(12)
    assert p.simulation.value(irq) == 0
    assert p.read(1) == 0b1000_0011
    p.read(0)
    p.pause()
    assert p.simulation.value(irq) == 1


def test_it_is_saved_and_restored_with_what_is_on_the_line() -> None:
    p = Processor()
    p.simulation.send("line", b"xy")
    p.write(0, ord("k"))
    p.pause(5)
    saved = p.simulation.save()
    p.pause(30)
    end = p.simulation.save()
    assert p.heard == b"k"
    p.simulation.restore(saved)
    assert p.simulation.save() == saved
    p.pause(30)
    assert p.simulation.save() == end
    assert p.heard == b"kk"


def test_the_bus_does_not_call_it() -> None:
    p = Processor()
    calls = []
    p.port.changed = lambda bench, nets: calls.append(nets)  # type: ignore[method-assign]
    for value in range(16):
        p.simulation.force_all({net: value >> bit & 1 for bit, net in enumerate(p.data)})
        p.simulation.force(p.net["rd_n"], value & 1)
    assert calls == []
    p.simulation.force_all(dict.fromkeys(p.data))
    p.read(1)
    p.write(1, 0)
    assert calls == []
    p.write(0, ord("k"))
    assert calls == [[p.net["sends"]]]
