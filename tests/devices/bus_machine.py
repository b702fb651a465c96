"""A small machine for devices: a two-bit counter, and nets that a test drives as a processor would."""

from __future__ import annotations

from building import Builder
from either_engine import ENGINES

from latchwork.devices.serial_port import LINE_PINS, SERIAL_PORT, SerialLine
from latchwork.netlist import NetId, Netlist
from latchwork.parts import Floating

STROBES = ("a0", "cs_n", "rd_n", "wr_n")


def bus_netlist() -> Netlist:
    """An oscillator, a data bus with pull-ups, an interrupt net with a pull-up, nets for the strobes."""
    b = Builder(clock="clock")
    b.add("oscillator", parameters={"period": 1_000_000}, OUT="clock")
    for name in (*b.bus("d", 8), "irq_n"):
        b.pull(name, "high")
    for name in STROBES:
        b.pull(name, "high")
    line = {pin: b.bus(pin.lower(), width) if width > 1 else pin.lower() for pin, width in LINE_PINS.items()}
    b.add(SERIAL_PORT.in_family("", Floating.UNKNOWN), D=b.bus("d", 8), A0="a0", CS_n="cs_n", RD_n="rd_n", WR_n="wr_n",
          IRQ_n="irq_n", **line)  # fmt: skip
    return b.netlist()


def line_nets(netlist: Netlist) -> dict[str, list[NetId]]:
    """The nets to the line side, by pin."""
    net = netlist.net_named
    return {
        pin: [net[pin.lower()]] if width == 1 else [net[f"{pin.lower()}[{bit}]"] for bit in range(width)]
        for pin, width in LINE_PINS.items()
    }


class Processor:
    """Reads and writes a port on the bus of ``bus_netlist`` by forcing nets, half a microsecond a strobe."""

    def __init__(self, rate: int = 1_000_000) -> None:
        netlist = bus_netlist()
        self.net = netlist.net_named
        self.data = [self.net[f"d[{i}]"] for i in range(8)]
        self.simulation = ENGINES.made(netlist)
        self.port = SerialLine("line", line_nets(netlist), rate)
        self.heard = b""
        self.simulation.hear(self._hear)
        self.simulation.attach(self.port)

    def _hear(self, name: str, data: bytes) -> None:
        assert name == "line"
        self.heard += data

    def pause(self, clocks: int = 1) -> None:
        self.simulation.run(clocks)

    def _force(self, **levels: int | None) -> None:
        self.simulation.force_all({self.net[name]: level for name, level in levels.items()})

    def read(self, a0: int) -> int | None:
        self._force(a0=a0, cs_n=0)
        self._force(rd_n=0)
        self.pause()
        value = self.simulation.read(self.data)
        self._force(rd_n=1)
        self._force(cs_n=1)
        return value

    def write(self, a0: int, value: int) -> None:
        self._force(a0=a0, cs_n=0, wr_n=0)
        self.simulation.force_all({net: value >> bit & 1 for bit, net in enumerate(self.data)})
        self.pause()
        # The strobe ends in the very tick in which the data change.
        changed = {net: 1 - (value >> bit & 1) for bit, net in enumerate(self.data)}
        self.simulation.force_all({self.net["wr_n"]: 1, **changed})
        self.simulation.force_all(dict.fromkeys(self.data))
        self._force(cs_n=1)
