"""A machine under power, for the ``run`` command and for a person's own tests."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from latchwork.analysis.rom_contents import rom_bytes, waking_bytes
from latchwork.devices import Device
from latchwork.devices.made import made
from latchwork.engines.compiled.watching import NOWHERE, Watch
from latchwork.engines.devices import DeviceError
from latchwork.engines.looks import Looks
from latchwork.engines.protocol import Incident, Simulation
from latchwork.languages.assembly.program import Program
from latchwork.model import Model, Row, Space
from latchwork.netlist import ChipId, NetId
from latchwork.problems import LatchworkError, Problem
from latchwork.reports.run import Happening, RunReport
from latchwork.tools.run.accesses import Accesses
from latchwork.tools.run.counting import InstructionCounter
from latchwork.tools.run.engines import powered
from latchwork.tools.run.hands import set_by_hand
from latchwork.tools.run.memories import Memories
from latchwork.tools.run.names import nets_named
from latchwork.tools.run.ports import histories
from latchwork.tools.run.resets import Resets
from latchwork.tools.run.stops import NEVER, Stop, stop_at
from latchwork.tools.run.trails import Trail, listed
from latchwork.tools.run.watching import watch_for

MOST_CLOCKS = 1_000_000


@dataclass(frozen=True)
class Moment:
    """All that ``Running.save`` keeps."""

    simulation: object
    counter: tuple[object, ...]
    ports: tuple[tuple[object, ...], ...]
    heard: dict[str, Trail[bytes]]
    begins: tuple[bool, int | None]
    hands: dict[str, int]
    resets: tuple[object, ...]


class Running:
    """Power comes on when it is made, and again at each ``run`` of a program.

    ``seed`` decides what unknown power-up states are; with ``unknown`` they stay unknown. Numbers are read as int,
    or None where a bit is unknown or carries nothing. ``engine``: see ``engines.powered``.
    """

    def __init__(self, model: Model, seed: int = 0, unknown: bool = False, *, engine: str | None = None) -> None:
        self.model = model
        self.seed = seed
        self.unknown = unknown
        self.engine = engine
        self.on_tick: list[Callable[[], object]] = []
        self.on_emit: Callable[[str, bytes], object] | None = None
        self.interrupted = False
        self.assembled: Program | None = None
        self._program = ""
        self._devices: list[Device] = [made(stated) for stated in model.statements.devices]
        self._set: dict[str, int] = {}
        self._watch: Watch | None = None
        self._hastened: dict[Looks, Watch | None] = {}
        self._burned: dict[ChipId, bytes] | None = None
        self._power_up()

    def _power_up(self) -> None:
        self._hastened.clear()
        netlist = self.model.netlist
        roms = rom_bytes(self.model) if self._burned is None else self._burned
        contents = waking_bytes(self.model, roms)
        self.simulation: Simulation = powered(
            netlist,
            contents,
            self.seed,
            unknown=self.unknown,
            engine=self.engine,
            microprogram=self.model.statements.microprogram,
        )
        for name, value in self._set.items():
            set_by_hand(self.model, self.simulation, name, value)
        self.memory = Memories(self.model, self.simulation)
        self._counter = InstructionCounter(self.model, self.simulation)
        self._begins = False
        self.instruction_address: int | None = None
        self._heard: dict[str, Trail[bytes]] = {}
        self.simulation.hear(self._hear)
        for device in self._devices:
            self.simulation.attach(device)
        self._histories = histories(self.model, self.simulation)
        self._resets = Resets(netlist, self.simulation)

    def load(self, program: str | Path) -> None:
        """Assemble a program (a path, from the machine's folder if it is not found from here), put it into its
        memory and switch the power on anew. Raises LatchworkError."""
        from latchwork.load.program import assemble_program

        assembled = assemble_program(self.model, Path(program))
        self.model = self.model.with_contents(dict(assembled.contents))
        self.assembled = assembled
        self.__dict__.pop("program_space", None)
        self._program = str(program)
        self._power_up()

    def burn(self, contents: Mapping[ChipId, bytes]) -> None:
        """Put these bytes into the ROMs instead of what the model says, and switch the power on anew. A program that
        is loaded later gives its labels, and no bytes."""
        self._burned = dict(contents)
        self._power_up()

    @property
    def labels(self) -> Mapping[str, tuple[str, int]]:
        """Labels of the program: name -> space and address."""
        return self.assembled.labels if self.assembled else {}

    def attach(self, device: Device) -> None:
        """Join a device to the machine, now and whenever power comes on. ValueError where its name is taken."""
        self.simulation.attach(device)
        self._devices.append(device)

    @property
    def devices(self) -> Sequence[str]:
        """Names of the attached devices."""
        return tuple(device.name for device in self._devices)

    def send(self, device: str, data: bytes) -> None:
        """Something from outside for a device. Raises LatchworkError."""
        if device not in self.devices:
            hint = f"there are {', '.join(self.devices)}" if self._devices else "no device is attached"
            raise LatchworkError(Problem("R101", f'the machine has no device "{device}"', help=hint))
        self.simulation.send(device, data)

    def _hear(self, device: str, data: bytes) -> None:
        self._heard[device] = Trail(data, self._heard.get(device))
        if self.on_emit:
            self.on_emit(device, data)

    def heard(self, device: str) -> bytes:
        """All that a device has emitted since power came on."""
        pieces: list[bytes] = listed(self._heard.get(device))
        return b"".join(pieces)

    def run(
        self, program: str | Path = "", until: str = "halt", clocks: int = MOST_CLOCKS, watched: Sequence[str] = ()
    ) -> RunReport:
        """Run until something (see ``stops.stop_at``) or so many more clocks; first load ``program`` if one is
        named. ``watched``: names that the report tells the value of. Raises LatchworkError."""
        for name in watched:
            nets_named(self.model, name)
        if program:
            self.load(program)
        stop = stop_at(self.model, self.simulation, until, self.labels)
        watch = watch_for(self.model, stop)
        self._watch = watch and self._noting(watch)
        return self.report(self._go(stop, self.clocks + clocks, until), watched)

    def _go(self, stop: Stop, bound: int, until: str) -> tuple[str, str]:
        while self.clocks < bound:
            self._skip(bound - self.clocks)
            trouble = self._trouble()
            try:
                if not (self.tick() or self.step_hand_clock()):
                    return "nothing", "nothing happens any more: no clock runs"
            except DeviceError as error:
                return "device", error.problems[0].message
            if self.interrupted:
                self.interrupted = False
                return "interrupted", "it was interrupted by hand"
            if stop.reached(self._begins):
                return stop.name, stop.reason
            if self._trouble() > trouble:
                return "oscillation", "some nets do not come to rest"
        return "clocks", _passed(bound, until)

    @property
    def is_quick(self) -> bool:
        """Whether clocks that nobody looks at run by faster than others."""
        return hasattr(self.simulation, "skip")

    def hasten(self, looks: Looks, clocks: int) -> int:
        """Let up to so many clocks run by in which comes nothing of what somebody looks at, an output port takes no
        value, and no device is called; how many did. What begins instructions is counted; the next clock has to be
        gone tick by tick."""
        if looks not in self._hastened:
            ports = watch_for(self.model, Stop("", "", lambda begins: False, looks.conditions))
            changing = () if ports is None else tuple(dict.fromkeys((*ports.changing, *looks.changing)))
            self._hastened[looks] = None if ports is None else replace(self._noting(ports), changing=changing)
        return self._skipped(self._hastened[looks], clocks)

    def _noting(self, watch: Watch) -> Watch:
        space = self.program_space
        return replace(watch, noted=space.address) if space and watch.counted else watch

    def _skip(self, clocks: int) -> None:
        """Let clocks run by in which nothing happens that anyone looks at; one less, for the next is looked at."""
        self._skipped(self._watch, clocks - 1)

    def _skipped(self, watch: Watch | None, clocks: int) -> int:
        skip, count = getattr(self.simulation, "skip", None), self._counter.counted
        if skip is None or count is None or watch is None or clocks < 1:
            return 0
        if self.on_tick or not self._resets.over:
            return 0
        noted = NOWHERE if self.instruction_address is None else self.instruction_address
        self.simulation.counted = count._replace(noted=noted)  # type: ignore[attr-defined]
        done: int = skip(watch, clocks)
        if done:
            self._counter.counted = self.simulation.counted  # type: ignore[attr-defined]
            noted = self.simulation.counted.noted  # type: ignore[attr-defined]
            self.instruction_address = None if noted == NOWHERE else noted
        return done

    def _trouble(self) -> int:
        return sum(incident.count for incident in self.incidents if incident.kind == "oscillation")

    def tick(self) -> bool:
        """Go on by one settling; False where nothing will ever happen again."""
        before = self.clocks
        try:
            return self.simulation.tick()
        finally:
            self._look(self.clocks > before)

    def _look(self, clocked: bool) -> None:
        self._resets.look()
        self._begins = clocked and self._counter.sample()
        space = self.program_space
        if self._begins and space:
            self.instruction_address = self.simulation.read(space.address)
        for history in self._histories.values():
            history.sample()
        for look in self.on_tick:
            look()

    def step_clock(self, clocks: int = 1) -> None:
        """Go on by rising edges of the main clock."""
        bound = self.clocks + clocks
        while self.clocks < bound and (self.tick() or self.step_hand_clock()):
            pass

    def step_hand_clock(self) -> bool:
        """Work the main clock once where a hand does that; whether it rose."""
        worked = self.simulation.run(1) > 0
        self._look(worked)
        return worked

    @property
    def clocks(self) -> int:
        """Rising edges of the main clock since power came on."""
        return self.simulation.clocks

    @property
    def instructions(self) -> int | None:
        """Begun since power came on; None without a microprogram."""
        return self._counter.count if self.model.control else None

    @property
    def begins(self) -> bool:
        """Whether an instruction began with the last tick."""
        return self._begins

    @cached_property
    def program_space(self) -> Space | None:
        """The address space that instructions come from."""
        spaces = {space.name: space for space in self.model.statements.spaces}
        sections = [section.space for section in self.model.statements.sections]
        named = [*(self.assembled.words if self.assembled else ()), *sections]
        return next((spaces[name] for name in named if name in spaces), None)

    def accesses(self, name: str) -> Accesses:
        """What reads and writes the memories of an address space, looked at tick by tick. Raises LatchworkError."""
        for space in self.model.statements.spaces:
            if space.name == name:
                return Accesses(self.model, self.simulation, space)
        names = ", ".join(space.name for space in self.model.statements.spaces)
        raise LatchworkError(Problem("R106", f'the machine has no address space "{name}"', help=f"it has {names}"))

    @property
    def microstep(self) -> Row | None:
        """The step of the microprogram that is at work."""
        return self._counter.row

    @property
    def micro_address(self) -> int | None:
        """Its address in the control store."""
        return self._counter.address

    def nets(self, name: str) -> tuple[NetId, ...]:
        """The nets under a name, lowest bit first. Raises LatchworkError."""
        return nets_named(self.model, name)

    def save(self) -> Moment:
        """This moment, to be handed to ``restore`` as long as power stays on."""
        return Moment(
            simulation=self.simulation.save(),
            counter=self._counter.save(),
            ports=tuple(history.save() for history in self._histories.values()),
            heard=dict(self._heard),
            begins=(self._begins, self.instruction_address),
            hands=dict(self._set),
            resets=self._resets.save(),
        )

    def restore(self, saved: Moment) -> None:
        """Back to a saved moment. What ``on_tick`` gathered stays."""
        self.simulation.restore(saved.simulation)
        self._counter.restore(saved.counter)
        for history, port in zip(self._histories.values(), saved.ports, strict=True):
            history.restore(port)
        self._heard = dict(saved.heard)
        self._begins, self.instruction_address = saved.begins
        self._set = dict(saved.hands)
        self._resets.restore(saved.resets)

    @property
    def incidents(self) -> Sequence[Incident]:
        """What a bench would show as trouble, so far; power-up contents only count after the reset."""
        return self._resets.incidents

    def __getitem__(self, name: str) -> int | None:
        """The number on a register, port, bus, net or control line."""
        return self.simulation.read(nets_named(self.model, name))

    def __setitem__(self, name: str, value: int) -> None:
        """Set switches and buttons; they stay so over a ``run``."""
        set_by_hand(self.model, self.simulation, name, value)
        self._set[name] = value

    def output(self, name: str) -> list[int | None]:
        """All values that an output port has shown since power came on, in order."""
        if name not in self._histories:
            nets_named(self.model, name)
            raise KeyError(f"{name} is no output port; there are {', '.join(self._histories)}")
        return list(self._histories[name].values)

    def showing(self) -> dict[str, int | None]:
        """What each output port showed at the end of the last tick; may be asked from another thread."""
        return {name: history.now for name, history in self._histories.items()}

    def report(self, stopped: tuple[str, str], watched: Sequence[str] = ()) -> RunReport:
        """The state of things in one record."""
        return RunReport(
            machine=self.model.netlist.name,
            program=self._program,
            stop=stopped[0],
            reason=stopped[1],
            clocks=self.clocks,
            time_ps=self.simulation.time_ps,
            instructions=self.instructions,
            registers={name: self[name] for name, _ in self.model.statements.registers},
            outputs={name: tuple(history.values) for name, history in self._histories.items()},
            watched={name: self[name] for name in watched},
            happenings=tuple(_happening(incident) for incident in self.incidents),
            seed=self.seed,
            unknown=self.unknown,
        )


def _passed(clocks: int, until: str) -> str:
    """Why a run came to its end by the number of its clocks."""
    passed = "1 clock has passed" if clocks == 1 else f"{clocks} clocks have passed"
    missed = {NEVER: "", "halt": ", it has not halted"}
    return passed + missed.get(until, f", {until} was not reached")


def _happening(incident: Incident) -> Happening:
    clock = incident.tick // 2
    return Happening(incident.kind, incident.time_ps, clock, incident.sentence, incident.count)
