"""A serial port: one byte in, one byte out, on a processor's bus.

What it does
    Sends and receives bytes over a line (here: to and from the terminal), eight bits, no parity, one stop bit. The
    machine sees two addresses. A byte takes ten bit times each way; one byte waits at each side.

    Its bus side is a part like every other, so that a program may ask for the status as often as it likes. What comes
    and goes on the line is a device's, joined to the part by pins of their own.

Pins
    D0-D7 two-way; A0 address; CS_n chip select; RD_n read; WR_n write; IRQ_n interrupt request (open drain).
    To the line: OUT0-OUT7 the byte to be sent, SENDS high while it waits, TAKEN changes as the line takes it; IN0-IN7 a
    byte received, taken in as COMES rises; START high for a moment as power comes on.

Function table
    CS_n RD_n WR_n A0
    0    0    1    0    D shows the byte received; the end of the read takes it away
    0    0    1    1    D shows the status
    0    1    0    0    at the end of the write, D is taken to be sent
    0    1    0    1    at the end of the write, D is taken as the interrupt mask
    else                D is let go

    Status: bit 0 a byte was received; bit 1 a byte can be taken to be sent; bit 2 a byte was lost because the one
    before had not been read (cleared by reading the status); bit 7 an interrupt is requested.
    Mask: bit 0 request while status bit 0 is 1; bit 1 request while status bit 1 is 1. 0 after power-up.

Timing
    None of the bus: like all chips it answers within the tick. Bit time: 1 / rate.

Mistakes people make
    A write strobe that is not gated with the clock writes while the address still moves; a read that lasts while A0
    changes is two reads.

Sources
    The frame of ten bits: common practice of asynchronous serial lines (start bit, eight bits, stop bit). The
    registers: ours.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from latchwork.chips.pins import dip, numbered
from latchwork.devices.protocol import Bench, Device, Edge, Output, Watch
from latchwork.logic import Expression, concat, constant, mux, variable
from latchwork.netlist import NetId
from latchwork.parts import Behaviour, Drive, Entry, Level, OutputKind, Register, Update

_pins = dip("""
    D0:b D1:b D2:b D3:b D4:b D5:b D6:b D7:b A0:i /CS:i /RD:i /WR:i /IRQ:o 14=NC14:n 15=NC15:n 16=NC16:n 17=NC17:n
    TAKEN:i COMES:i GND
    IN0:i IN1:i IN2:i IN3:i IN4:i IN5:i IN6:i IN7:i
    OUT0:o OUT1:o OUT2:o OUT3:o OUT4:o OUT5:o OUT6:o OUT7:o SENDS:o START:i 39=NC39:n VCC
""")

_bus, _a0 = variable("D", 8), variable("A0")
_chosen, _reads, _writes = (~variable(name) for name in ("CS_n", "RD_n", "WR_n"))
_start, _taken, _comes = (variable(name) for name in ("START", "TAKEN", "COMES"))
_offered = variable("offered")
_ready = ~(_offered ^ _taken)
_received, _full, _lost = variable("received", 8), variable("full"), variable("lost")
_sending, _mask = variable("sending", 8), variable("mask", 8)

_read, _written = _chosen & _reads & ~_writes, _chosen & _writes & ~_reads
_asks = _full & _mask[0] | _ready & _mask[1]
_status = concat(_full, _ready, _lost, constant(0, 4), _asks)
_zero, _one = constant(0), constant(1)
_at_start = Level(_start, _zero)


def _end_of(access: Expression, a0: int) -> Expression:
    """A rising edge where an access at one of the two addresses is over."""
    return ~(access & (_a0 if a0 else ~_a0))


SERIAL_PORT = Entry(
    number="serial port",
    title="serial port",
    kind="device",
    families=("",),
    pins=_pins,
    width_mil=600,
    vectors=tuple((name, numbered(name, 8, first=0)) for name in ("D", "IN", "OUT")),
    behaviour=Behaviour(
        registers=(
            Register("received", 8, (Update(_comes, variable("IN", 8)),), (Level(_start, constant(0, 8)),)),
            Register("full", 1, (Update(_comes, _one), Update(_end_of(_read, 0), _zero)), (_at_start,)),
            Register("lost", 1, (Update(_comes, _lost | _full), Update(_end_of(_read, 1), _zero)), (_at_start,)),
            Register("sending", 8, (Update(_end_of(_written, 0), mux(_ready, _bus, _sending)),)),
            Register("offered", 1, (Update(_end_of(_written, 0), ~_taken),), (Level(_start, _taken),)),
            Register("mask", 8, (Update(_end_of(_written, 1), _bus),), (Level(_start, constant(0, 8)),)),
        ),
        drives=(
            Drive("D", mux(_a0, _status, _received), _read, OutputKind.THREE_STATE),
            Drive("IRQ_n", ~_asks, None, OutputKind.OPEN_COLLECTOR),
            Drive("OUT", _sending),
            Drive("SENDS", ~_ready),
        ),
    ),
)
"""The bus side. A byte that is written while the one before it still waits is lost."""

LINE_PINS = {"OUT": 8, "SENDS": 1, "IN": 8, "COMES": 1, "TAKEN": 1, "START": 1}
"""Pins to the line, with their numbers of nets."""

FRAME_BITS = 10
PULSE_PS = 100_000
"""What the line side gives to COMES and START."""


class SerialLine(Device):
    """What comes and goes on the line of a ``SERIAL_PORT``. ``pins``: nets by ``LINE_PINS``; ``rate``: bits a
    second."""

    kept = ("arriving", "sending", "waits", "level", "next_arrival", "sent_at")

    def __init__(self, name: str, pins: Mapping[str, Sequence[NetId]], rate: int = 9600) -> None:
        if rate <= 0:
            raise ValueError("a serial port has a positive rate")
        self.out, self.into = tuple(pins["OUT"]), tuple(pins["IN"])
        (self.sends,), (self.comes,), (self.taken,), (self.begins,) = (
            pins[name] for name in ("SENDS", "COMES", "TAKEN", "START")
        )
        self.frame = FRAME_BITS * 10**12 // rate
        driven = (*self.into, self.comes, self.taken, self.begins)
        super().__init__(name, [Watch(self.sends, Edge.RISE)], [Output(net) for net in driven])

    def start(self, bench: Bench) -> None:
        self.arriving = b""  # on the line, not here yet
        self.sending: int | None = None  # on the line
        self.waits = False  # whether there is one more to be sent after it
        self.level = 0  # of TAKEN
        self.next_arrival = self.sent_at = -1  # times; -1: none is under way
        self._pulse(bench, self.begins)

    @staticmethod
    def _pulse(bench: Bench, net: NetId) -> None:
        bench.drive((net,), 1)
        bench.drive((net,), 0, PULSE_PS)

    def changed(self, bench: Bench, nets: Sequence[NetId]) -> None:
        if self.sent_at >= 0:
            self.waits = True
        else:
            self._send(bench)

    def _send(self, bench: Bench) -> None:
        self.sending = bench.read(self.out)
        self.sent_at = bench.time_ps + self.frame
        bench.wake(self.frame)
        self.level = 1 - self.level
        bench.drive((self.taken,), self.level)

    def woken(self, bench: Bench) -> None:
        if bench.time_ps == self.sent_at:
            if self.sending is not None:
                bench.emit(bytes([self.sending]))
            self.sent_at = -1
            if self.waits:
                self.waits = False
                self._send(bench)
        if bench.time_ps == self.next_arrival:
            self._arrive(bench)

    def _arrive(self, bench: Bench) -> None:
        bench.drive(self.into, self.arriving[0])
        bench.drive((self.comes,), 1, PULSE_PS)
        bench.drive((self.comes,), 0, 2 * PULSE_PS)
        self.arriving = self.arriving[1:]
        self._expect(bench)

    def _expect(self, bench: Bench) -> None:
        self.next_arrival = bench.time_ps + self.frame if self.arriving else -1
        if self.arriving:
            bench.wake(self.frame)

    def received(self, bench: Bench, data: bytes) -> None:
        """Bytes on the line, one after the other."""
        self.arriving += data
        if self.next_arrival < 0:
            self._expect(bench)
