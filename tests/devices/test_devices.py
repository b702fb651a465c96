"""The protocol of devices: who is called when, what they drive, and what comes of their mistakes. Semantics:
docs/semantics.md, "Devices"; strong drivers and fights by the rules of that page."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from building import Builder
from either_engine import ENGINES

from latchwork.devices import Bench, Device, Edge, Output, Watch
from latchwork.devices.panel import Panel
from latchwork.engines.devices import DeviceError
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Simulation
from latchwork.parts import OutputKind
from latchwork.problems import LatchworkError

pytestmark = pytest.mark.usefixtures("either_engine")

PERIOD = 1_000_000


def machine(unknown: bool = False) -> tuple[Simulation, dict[str, int]]:
    b = Builder(clock="clock")
    b.add("oscillator", parameters={"period": PERIOD}, OUT="clock")
    b.add("74HCT00", A1="clock", B1="high", Y1="clock_n", A2="asked", B2="high", Y2="asked_n")
    b.pull("asked", "high")
    netlist = b.netlist()
    return (Oracle(netlist, unknown=True) if unknown else ENGINES.made(netlist)), netlist.net_named


class Answering(Device):
    """Answers each edge of a net by another one's level, after a time."""

    kept = ("calls",)

    def __init__(self, watch: Watch, output: Output, after: int = 0) -> None:
        super().__init__("answer", [watch], [output])
        self.after = after

    def start(self, bench: Bench) -> None:
        self.calls: tuple[int, ...] = ()

    def changed(self, bench: Bench, nets: Sequence[int]) -> None:
        self.calls += (bench.time_ps,)
        bench.drive([self.outputs[0].net], bench.level(nets[0]), self.after)


@pytest.mark.parametrize("unknown", [False, True])
def test_edges_and_a_tick_of_its_own_for_the_answer(unknown: bool) -> None:
    simulation, net = machine(unknown)
    device = Answering(Watch(net["clock"], Edge.RISE), Output(net["asked"], OutputKind.THREE_STATE))
    simulation.attach(device)
    simulation.run(3)
    assert device.calls == (500_000, 1_500_000, 2_500_000)
    ticks = simulation.ticks
    assert simulation.next_time == simulation.time_ps  # the answer waits, at the same moment
    assert simulation.tick()
    assert (simulation.ticks, simulation.time_ps) == (ticks + 1, 2_500_000)


def test_an_answer_at_a_later_time() -> None:
    simulation, net = machine()
    device = Answering(Watch(net["clock"], Edge.FALL), Output(net["asked"], OutputKind.OPEN_COLLECTOR), after=70)
    simulation.attach(device)
    simulation.run(2)
    assert simulation.value(net["asked"]) == 0
    assert simulation.value(net["asked_n"]) == 1
    assert device.calls == (1_000_000,)


def test_two_drivers_that_differ_are_a_fight_that_names_the_device() -> None:
    simulation, net = machine()
    simulation.attach(Answering(Watch(net["clock"]), Output(net["clock_n"])))
    simulation.run(2)
    fights = [incident for incident in simulation.incidents if incident.kind == "fight"]
    assert fights[0].sentence == 'the device "answer" and 74HCT00 U2 drive clock_n to different levels'
    assert fights[0].chips == (1,)


class Faulty(Device):
    kept = ("left",)

    def __init__(self, net: int) -> None:
        super().__init__("clumsy", [Watch(net, Edge.RISE)])

    def start(self, bench: Bench) -> None:
        self.left = 2

    def changed(self, bench: Bench, nets: Sequence[int]) -> None:
        self.left -= 1
        bench.read([])
        if not self.left:
            raise ZeroDivisionError("division by zero")


def test_a_device_that_raises_is_named_and_the_machine_stands() -> None:
    simulation, net = machine()
    simulation.attach(Faulty(net["clock"]))
    other = Answering(Watch(net["clock"], Edge.RISE), Output(net["asked"], OutputKind.THREE_STATE))
    simulation.attach(other)
    with pytest.raises(DeviceError, match="clumsy") as raised:
        simulation.run(5)
    line = Faulty.changed.__code__.co_firstlineno + 4
    assert str(raised.value) == (
        'R203 the device "clumsy" failed at an edge, tick 6: ZeroDivisionError: division by zero '
        f"(test_devices.py:{line}) (the machine stands as it did then; the device is called no more)"
    )
    assert raised.value.device == "clumsy"
    assert (simulation.time_ps, simulation.clocks, simulation.value(net["clock"])) == (1_500_000, 2, 1)
    assert len(other.calls) == 2  # those after it are called all the same
    assert simulation.run(5) == 5  # it goes on without the device


def test_wrong_drives_are_the_devices_mistake() -> None:
    for kind, level, words in [
        (OutputKind.OPEN_COLLECTOR, 1, "open-drain"),
        (OutputKind.PUSH_PULL, None, "push-pull"),
    ]:
        simulation, net = machine()
        device = Answering(Watch(net["clock"]), Output(net["asked"], kind))
        device.changed = lambda bench, nets, at=net["asked"], level=level: bench.drive([at], level)  # type: ignore
        simulation.attach(device)
        with pytest.raises(DeviceError, match=words):
            simulation.run(2)


def test_devices_that_answer_each_other_for_ever_are_stopped() -> None:
    simulation, net = machine()
    device = Answering(Watch(net["asked_n"]), Output(net["asked"]))
    device.start = lambda bench: bench.drive([net["asked"]], 1)  # type: ignore
    device.changed = lambda bench, nets: bench.drive([net["asked"]], bench.level(net["asked_n"]))  # type: ignore
    simulation.attach(device)
    with pytest.raises(LatchworkError) as raised:
        simulation.run(2)
    assert str(raised.value) == (
        "R204 the devices (answer) kept answering at one moment, 1000 ticks long (let one of them answer after a time)"
    )


def test_save_with_other_devices_is_refused() -> None:
    simulation, net = machine()
    saved = simulation.save()
    simulation.attach(Faulty(net["clock"]))
    with pytest.raises(ValueError, match="other devices"):
        simulation.restore(saved)


def test_the_panel() -> None:
    b = Builder(clock="clock")
    b.add("oscillator", parameters={"period": PERIOD}, OUT="clock")
    b.add("74HCT00", A1="s0", B1="s1", Y1="both_n", A2="go_n", B2="high", Y2="go")
    b.pull("go_n", "high")
    netlist = b.netlist()
    net = netlist.net_named
    simulation = ENGINES.made(netlist)
    heard = []
    simulation.hear(lambda name, data: heard.append((name, data)))
    lamps = {"lamps": [net["both_n"], net["go"]]}
    simulation.attach(
        Panel("panel", switches={"s": [net["s0"], net["s1"]]}, buttons={"go": [net["go_n"]]}, lamps=lamps)
    )
    simulation.run(1)
    heard.clear()
    simulation.send("panel", b"s=3 go=1")
    simulation.run(1)
    assert heard == [("panel", b"lamps=2\n")]
    simulation.send("panel", b"go=0 s=4 t=1 s=x")
    simulation.run(1)
    assert heard[1:] == [
        ("panel", b"s=4 is not taken: 4 does not fit 2 nets\n"),
        ("panel", b't=1 is not taken: the panel has no switch or button "t"\n'),
        ("panel", b"s=x is not taken: invalid literal for int() with base 0: 'x'\n"),
        ("panel", b"lamps=0\n"),
    ]
