"""A serial port: one byte in, one byte out, on a processor's bus.

What it does
    Sends and receives bytes over a line (here: to and from the terminal), eight bits, no parity, one stop bit. The
    machine sees two addresses. A byte takes ten bit times each way; one byte waits at each side.

Pins
    D0-D7 two-way; A0 address; CS_n chip select; RD_n read; WR_n write; IRQ_n interrupt request (open drain).

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
    Data stand 50 ns after the latest of A0, CS_n, RD_n and are let go 25 ns after the end of the read (typical of
    peripheral chips of the trade; common practice, no single sheet). Bit time: 1 / rate.

Mistakes people make
    WR_n that rises together with a change of D or A0: what is taken is what stood before that tick's edge, for a
    strobe made by the clock; a write strobe that is not gated with the clock writes while the address still moves.

Sources
    The frame of ten bits: common practice of asynchronous serial lines (start bit, eight bits, stop bit).
"""

from __future__ import annotations

from collections.abc import Sequence

from latchwork.devices.protocol import Bench, Device, Output, Watch
from latchwork.netlist import NetId
from latchwork.parts import OutputKind

RECEIVED, READY, LOST, REQUEST = 1, 2, 4, 128
ACCESS_PS, RELEASE_PS = 50_000, 25_000
FRAME_BITS = 10


class SerialPort(Device):
    """``data`` lowest bit first; ``irq_n`` may be left out. ``rate`` in bits a second."""

    kept = ("arriving", "received_byte", "status", "mask", "sending", "next_arrival", "sent_at", "bus")

    def __init__(
        self,
        name: str,
        *,
        data: Sequence[NetId],
        a0: NetId,
        cs_n: NetId,
        rd_n: NetId,
        wr_n: NetId,
        irq_n: NetId | None = None,
        rate: int = 9600,
    ) -> None:
        if len(data) != 8 or rate <= 0:
            raise ValueError("a serial port has eight data nets and a positive rate")
        self.data = tuple(data)
        self.select = (a0, cs_n, rd_n, wr_n)
        self.request = () if irq_n is None else (irq_n,)
        self.frame = FRAME_BITS * 10**12 // rate
        outputs = [Output(net, OutputKind.THREE_STATE) for net in data]
        outputs += [Output(net, OutputKind.OPEN_COLLECTOR) for net in self.request]
        super().__init__(name, _watches(self.select, data), outputs)

    def start(self, bench: Bench) -> None:
        self.arriving = b""  # on the line, not here yet
        self.received_byte = 0
        self.status = READY
        self.mask = 0
        self.sending: int | None = None
        self.next_arrival = self.sent_at = -1  # times; -1: none is under way
        self.bus = self._bus(bench)

    def _bus(self, bench: Bench) -> tuple[int | None, ...]:
        """A0, CS_n, RD_n, WR_n and the data."""
        return (*(bench.level(net) for net in self.select), bench.read(self.data))

    def changed(self, bench: Bench, nets: Sequence[NetId]) -> None:
        was, self.bus = self.bus, self._bus(bench)
        if was[:4] == self.bus[:4]:
            return
        if _reads(was) and (not _reads(self.bus) or was[0] != self.bus[0]):
            self._read_ended(was[0])
        if _writes(was) and not _writes(self.bus):
            self._written(bench, was[0], was[4])
        self._show(bench, self.bus[0] if _reads(self.bus) else None)
        self._ask(bench)

    def _read_ended(self, a0: int | None) -> None:
        self.status &= ~LOST if a0 else ~RECEIVED

    def _written(self, bench: Bench, a0: int | None, value: int | None) -> None:
        if value is None or a0 is None:
            return
        if a0:
            self.mask = value
        elif self.status & READY:
            self.sending, self.status = value, self.status & ~READY
            self.sent_at = bench.time_ps + self.frame
            bench.wake(self.frame)

    def _show(self, bench: Bench, a0: int | None) -> None:
        if a0 is None:
            bench.drive(self.data, None, RELEASE_PS)
        else:
            bench.drive(self.data, self.seen_status if a0 else self.received_byte, ACCESS_PS)

    @property
    def asks(self) -> bool:
        """Whether an interrupt is requested."""
        return bool(self.status & self.mask & (RECEIVED | READY))

    @property
    def seen_status(self) -> int:
        """What a read of the status gives."""
        return self.status | (REQUEST if self.asks else 0)

    def _ask(self, bench: Bench) -> None:
        bench.drive(self.request, 0 if self.asks else None)

    def woken(self, bench: Bench) -> None:
        if bench.time_ps == self.sent_at and self.sending is not None:
            bench.emit(bytes([self.sending]))
            self.sending, self.sent_at = None, -1
            self.status |= READY
        if bench.time_ps == self.next_arrival:
            self._arrive(bench)
        self._ask(bench)

    def _arrive(self, bench: Bench) -> None:
        if self.status & RECEIVED:
            self.status |= LOST
        self.received_byte, self.arriving = self.arriving[0], self.arriving[1:]
        self.status |= RECEIVED
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


def _watches(select: Sequence[NetId], data: Sequence[NetId]) -> list[Watch]:
    """Only what matters: nothing but the chip select while it is not selected, the data only while they are written."""
    a0, cs_n, rd_n, wr_n = select
    selected = ((cs_n, 0),)
    written = [Watch(net, when=(*selected, (wr_n, 0))) for net in data]
    return [Watch(cs_n), *(Watch(net, when=selected) for net in (a0, rd_n, wr_n)), *written]


def _reads(bus: Sequence[int | None]) -> bool:
    return bus[1:4] == (0, 0, 1) and bus[0] is not None


def _writes(bus: Sequence[int | None]) -> bool:
    return bus[1:4] == (0, 1, 0)
