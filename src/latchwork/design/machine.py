"""``Machine``: what a person writes a machine down with. Every method is one statement about it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from latchwork.design import board_parts, devices, gates, lines, same_bytes, statements, tables
from latchwork.design.boards import BoardBlock
from latchwork.design.connect import connect
from latchwork.design.draft import Draft
from latchwork.design.freeze import frozen
from latchwork.design.handle import Handle
from latchwork.design.idle import Idle
from latchwork.design.mistakes import kind_of, mistake
from latchwork.design.parts import family_of, part_named
from latchwork.design.place import here
from latchwork.design.programmable import with_fuses
from latchwork.design.signals import LOW, OPEN, Bus, Level, Net
from latchwork.design.times import give_times
from latchwork.design.values import (
    level_of,
    name_of,
    net_of,
    nets_of,
    number_of,
    ohms_of,
    period_of,
    rail_of,
    text_of,
    time_of,
    volts_of,
)
from latchwork.devices.serial_port import SERIAL_PORT
from latchwork.model import Halt, LoadedImage, MicroprogramBinding, Space, Statements
from latchwork.netlist import Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Entry, Part

Nets = Net | Bus | Sequence[Net]
Connections = Net | Bus | Level | Sequence[object] | object


class Machine:
    """A computer of logic chips, described statement by statement.

    ``family``: the logic family of parts named by number alone and of single gates. ``supply``: volts.
    """

    def __init__(self, name: str, family: str = "HCT", supply: float = 5.0) -> None:
        self._draft = Draft(name_of(name, "a machine"), family_of(family), volts_of(supply))
        self._stated = statements.Stated()
        self.position = here()

    @property
    def name(self) -> str:
        return self._draft.name

    # Nets and buses

    def net(self, name: str, idle: Idle | None = None) -> Net:
        """A net by itself."""
        net = self._draft.add_net(name_of(name, "a net"))
        if idle is not None:
            board_parts.hold_when_idle(self._draft, net, _idle_of(idle))
        return net

    def bus(self, name: str, width: int, idle: Idle | None = None) -> Bus:
        """Nets side by side; ``idle``: what holds them while nothing drives them."""
        given = name_of(name, "a bus")
        held = None if idle is None else _idle_of(idle)
        bits = number_of(width, f'the width of the bus "{given}"', 1, 1024)
        bus = self._draft.add_bus(given, bits, held.kind if held else "")
        for net in bus if held else ():
            board_parts.hold_when_idle(self._draft, net, _idle_of(idle))
        return bus

    def line(
        self, name: str, rest: int | None = None, phase: Mapping[Net, int] | None = None, hardware: bool = False
    ) -> Net:
        """A control line; a name that ends in ``_n`` is active low. ``rest``: level when nobody asks, the inactive
        one if left out. ``phase``: levels under which it takes effect. ``hardware``: decoded from opcode bits."""
        return lines.add_line(self._draft, name, lines.Use(rest, phase, hardware))

    def lines(
        self,
        name: str,
        width: int,
        rest: int | None = None,
        phase: Mapping[Net, int] | None = None,
        hardware: bool = False,
    ) -> Bus:
        """A row of control lines, nets ``name[0]``.., called ``name0``.. in microprograms."""
        return lines.add_lines(self._draft, name, width, lines.Use(rest, phase, hardware))

    # Boards and chips

    def board(self, name: str, title: str = "") -> BoardBlock:
        """``with m.board("alu"):`` everything written inside stands on that board."""
        return BoardBlock(self._draft, name_of(name, "a board"), text_of(title, "the title of a board"))

    def chip(
        self,
        part: str | Entry | Part,
        pins: Mapping[str, Connections] | None = None,
        /,
        *,
        label: str = "",
        family: str | None = None,
        times: Mapping[str, str | float] | None = None,
        logic: str | None = None,
        fuses: str | None = None,
        **ports: Connections,
    ) -> Handle:
        """A chip with its ports joined: ``m.chip("74HCT377", CLK=clock, D=data, Q=held)``. Labels of the data sheet
        go into a dictionary: ``{"/G": take}``. A number alone, "377", is taken in the machine's family; so is an
        ``Entry`` of one's own, and a ``Part`` is taken as it is. ``times``: of its one-shots, in seconds. ``logic``,
        ``fuses``: the file that a programmable device is burned with, as text of its own or as a fuse file."""
        found, labelled = with_fuses(part_named(part, self._family(family)), logic, fuses), _labelled(pins)
        chip = self._draft.add_chip(found, text_of(label, "a label"))
        give_times(chip, times)
        connect(self._draft, chip, {**labelled, **ports})
        return Handle(self._draft, chip)

    def connect(self, chip: Handle, pins: Mapping[str, Connections] | None = None, /, **ports: Connections) -> None:
        """Join ports of a chip that were left out where it was written, for nets that run in a ring."""
        later = statements.chip_given(self._draft, chip, "what is connected")
        connect(self._draft, later, {**_labelled(pins), **ports})

    def gate(
        self,
        function: str,
        *inputs: Net | Level,
        out: Net | None = None,
        name: str = "",
        family: str | None = None,
    ) -> Net:
        """A single gate; the package it sits in is found by Latchwork. Gives the net of its output, which is
        ``out``, or a new one called ``name``."""
        if name and out is not None:
            raise mistake("M021", f'the output of the gate is {out.described} and is called "{name}" too; write one')
        result = self.net(name) if name else out
        return gates.add_gate(self._draft, function, inputs, self._family(family), result)

    def _family(self, family: str | None) -> str:
        return self._draft.family if family is None else family_of(family)

    # Lamps, switches, clocks and timing elements

    def lamp(self, net: Net, colour: str = "red", resistor: str | int | None = "1k") -> None:
        """A lamp that is lit while the net is high."""
        ohms = 0 if resistor is None else ohms_of(resistor)
        board_parts.add_lamp(self._draft, net_of(self._draft, net, "a lamp's net"), text_of(colour, "a colour"), ohms)

    def lamps(self, nets: Nets, colour: str = "red", resistor: str | int | None = "1k") -> None:
        """A lamp on each of the nets."""
        for net in nets_of(self._draft, nets, "what the lamps show"):
            self.lamp(net, colour, resistor)

    def resistor(self, a: Net | Level, b: Net | Level, value: str | int, label: str = "") -> None:
        """A resistor between two nets, or a net and a rail."""
        ends = [end if isinstance(end, Level) else net_of(self._draft, end, "an end of a resistor") for end in (a, b)]
        board_parts.add_resistor(self._draft, ends[0], ends[1], ohms_of(value), text_of(label, "a label"))

    def switch(self, name: str, closed: Level = LOW, pull: str | int = "10k") -> Net:
        """A switch that ties its net to the rail ``closed``; a resistor pulls it to the other."""
        return self._hand_part("switch", name, closed, pull)

    def switches(self, name: str, width: int, closed: Level = LOW, pull: str | int = "10k") -> Bus:
        """A row of switches."""
        bus = self.bus(name, width)
        for net in bus:
            board_parts.add_switch(self._draft, net, "switch", rail_of(closed), ohms_of(pull))
        return bus

    def button(self, name: str, closed: Level = LOW, pull: str | int = "10k") -> Net:
        """A button: a switch that is closed while it is pressed."""
        return self._hand_part("button", name, closed, pull)

    def _hand_part(self, part: str, name: str, closed: Level, pull: str | int) -> Net:
        net = self._draft.add_net(name_of(name, f"a {part}"))
        board_parts.add_switch(self._draft, net, part, rail_of(closed), ohms_of(pull))
        return net

    def clock(self, frequency: float | str, hand: bool = False, name: str = "") -> Net:
        """A crystal oscillator; the first is the machine's main clock. ``hand``: also a hand clock, with a switch
        ``hand_mode`` (high: by hand) that chooses between the two."""
        period = period_of(frequency)
        out = self._draft.add_net(self._source_name(name, "clock"))
        crystal = self._draft.add_net(f"{out.name}_crystal") if hand else out
        board_parts.add_source(self._draft, "crystal oscillator", crystal, period=period)
        if hand:
            mode = "hand_mode" if "hand_mode" not in self._draft.names else f"{out.name}_hand_mode"
            by_hand = self.switch(mode, closed=Level.HIGH)
            stepped = self._draft.add_net(f"{out.name}_by_hand")
            board_parts.add_source(self._draft, "hand clock", stepped)
            board_parts.selected_clock(self._draft, crystal, stepped, by_hand, out)
        board_parts.note_clock(self._draft, out, period)
        return out

    def hand_clock(self, name: str = "") -> Net:
        """A clock that a person steps; the main clock of a machine without crystal."""
        net = self._draft.add_net(self._source_name(name, "hand_clock"))
        board_parts.add_source(self._draft, "hand clock", net)
        if self._draft.hand_clock == NO_NET:
            self._draft.hand_clock = net.index
        return net

    def oscillator(self, frequency: float | str, name: str = "") -> Net:
        """A free-running oscillator of a Schmitt trigger, a resistor and a capacitor."""
        net = self._draft.add_net(self._source_name(name, "oscillator"))
        board_parts.add_source(self._draft, "oscillator", net, period=period_of(frequency))
        return net

    def pulse(self, net: Net, width: str | float, name: str = "") -> Net:
        """A pulse of ``width`` seconds ("100n") at each rising edge of the net."""
        return self._element("pulse", net, name, width=time_of(width, "the width of a pulse"))

    def delay(self, net: Net, time: str | float, name: str = "") -> Net:
        """The net's changes, ``time`` seconds ("50n") later."""
        return self._element("delay", net, name, time=time_of(time, "a delay"))

    def _element(self, part: str, net: Net, name: str, **parameters: int) -> Net:
        trigger = net_of(self._draft, net, f"the input of a {part}")
        result = self._draft.add_net(self._source_name(name, part))
        board_parts.add_element(self._draft, part, trigger, result, **parameters)
        return result

    def power_on_reset(self, hold: str | float | None = None, name: str = "reset_n") -> Net:
        """A net that is low for ``hold`` seconds after power-up, then high; four main clock periods if left out."""
        net = self._draft.add_net(name_of(name, "a reset"))
        chip = board_parts.add_source(self._draft, "reset supervisor", net)
        if hold is None:
            self._draft.waiting.append(chip)
        else:
            chip.parameters["hold"] = time_of(hold, "the time of a reset")
        return net

    def _source_name(self, name: str, word: str) -> str:
        """The given name, else ``word``, ``word_2``, ..."""
        if name:
            return name_of(name, f"a {word.replace('_', ' ')}")
        number = self._draft.count(f"source {word}")
        return word if number == 1 else f"{word}_{number}"

    # What the wiring cannot tell

    def assume(self, net: Net | str | None = None, level: int | None = None, /, **levels: int) -> None:
        """A net that is constant while the machine runs: ``m.assume(hand_mode=LOW)`` or ``m.assume(net, LOW)``."""
        if net is not None:
            statements.assume(self._draft, net, level)
        for name, value in levels.items():
            statements.assume(self._draft, name, value)

    def microprogram(
        self,
        source: str,
        *,
        store: Iterable[Handle],
        opcode: Nets,
        conditions: Mapping[str, Net | tuple[Net, int]] | Sequence[Net] = (),
        decode: Iterable[Handle] = (),
        step: Nets = (),
        interrupt: Net | None = None,
        fetch_address: int | None = None,
    ) -> None:
        """The microprogram's file, the ROMs that hold the control store, and the nets with opcode and conditions
        (lowest bit first). ``decode``: ROMs that turn an opcode into a start address. ``fetch_address``: micro-address
        at which instructions begin, where the wiring leaves it open."""
        draft = self._draft
        binding = MicroprogramBinding(
            source=text_of(source, "the file of the microprogram"),
            store=statements.memories_given(draft, store, "store"),
            opcode=_indices(nets_of(draft, opcode, "opcode")),
            conditions=statements.conditions_of(draft, conditions),
            decode=statements.memories_given(draft, decode, "decode"),
            step=_indices(nets_of(draft, step, "step")),
            interrupt=-1 if interrupt is None else net_of(draft, interrupt, "interrupt").index,
            position=here(),
            fetch_address=-1 if fetch_address is None else number_of(fetch_address, "fetch_address"),
        )
        statements.bind_microprogram(self._stated, binding)

    def space(
        self,
        name: str,
        *,
        address: Nets,
        data: Nets,
        chips: Iterable[Handle],
        show: str = "",
        write: str = "",
        when: Mapping[Net, int] | None = None,
    ) -> None:
        """An address space as programs see it, and its memories. ``show``, ``write``: lines that read and write it.
        ``when``: bank settings, nets with the levels at which this space is seen."""
        draft = self._draft
        given = name_of(name, "an address space")
        space = Space(
            name=given,
            address=_indices(nets_of(draft, address, "address")),
            data=_indices(nets_of(draft, data, "data")),
            chips=statements.memories_given(draft, chips, "chips"),
            position=here(),
            show=text_of(show, "show"),
            write=text_of(write, "write"),
            when=statements.settings_of(draft, given, when),
        )
        statements.add_space(self._stated, space)

    def section(
        self, name: str, *, space: str, start: int, size: int, load_space: str = "", load_start: int | None = None
    ) -> None:
        """A place of a space for assembled text: ``size`` words from ``start``. ``load_space``, ``load_start``: where
        the words are stored, if a program has to copy them from there before they run."""
        statements.add_section(self._stated, name, statements.Place(space, start, size, load_space, load_start))

    def table(
        self,
        chip: Handle,
        function: Callable[..., object],
        inputs: Mapping[str, Nets],
        outputs: Mapping[str, Nets],
        any_level: Nets = (),
    ) -> None:
        """A ROM that holds a function: called with a number for each of the named inputs, it gives the output's
        number, a dictionary or a tuple of them. ``any_level``: address nets on which it does not depend."""
        asked = tables.Asked(function, inputs, outputs, any_level)
        tables.add_table(self._draft, self._stated, chip, asked)

    def image(self, chip: Handle, source: str) -> None:
        """A ROM that holds a file of bytes."""
        memory = statements.memory_given(self._draft, chip, "the chip of an image")
        statements.claim_contents(self._stated, memory)
        self._stated.images.append(LoadedImage(memory.index, text_of(source, "the file of an image"), here()))

    def share_image(self, *chips: Handle) -> None:
        """ROMs that are burned with one image. Cells that a chip can't reach, for an address pin on a rail, hold what
        the others need there."""
        same_bytes.share_image(self._draft, self._stated, chips)

    def copied(
        self,
        source: Handle | Iterable[Handle],
        target: Handle | Iterable[Handle],
        start: int = 0,
        simulated: bool = False,
    ) -> None:
        """Memories that the machine's hardware fills from ROMs at its start: the bytes of the source chips, one after
        the other, from ``start`` on, go into the target chips, one after the other. ``simulated``: the hardware does
        that in simulation too, instead of targets that wake up with their bytes."""
        same_bytes.copied(self._draft, self._stated, source, target, same_bytes.Way(start, simulated))

    def output(self, name: str, nets: Nets, take: Net | None = None) -> None:
        """Nets that a person looks at. ``take``: net whose rising edge means a new value."""
        statements.add_port(self._draft, self._stated, name, nets, direction="out", take=take)

    def input(self, name: str, nets: Nets) -> None:
        """Nets that a person sets."""
        statements.add_port(self._draft, self._stated, name, nets, direction="in")

    def serial_port(
        self,
        name: str,
        *,
        D: Nets,
        A0: Net,
        CS_n: Net,
        RD_n: Net,
        WR_n: Net,
        IRQ_n: Net | None = None,
        rate: int = 9600,
    ) -> None:
        """A serial port on a bus, for a terminal; see ``devices/serial_port.py``. ``rate``: bits a second."""
        line = devices.add_serial_line(self._draft, self._stated, name, D, rate)
        interrupt = OPEN if IRQ_n is None else IRQ_n
        self.chip(SERIAL_PORT, line, label=name, D=D, A0=A0, CS_n=CS_n, RD_n=RD_n, WR_n=WR_n, IRQ_n=interrupt)

    def panel(
        self,
        name: str,
        *,
        switches: Mapping[str, Nets] | None = None,
        buttons: Mapping[str, Nets] | None = None,
        lamps: Mapping[str, Nets] | None = None,
    ) -> None:
        """A panel on a ribbon of wires: switches that drive nets, buttons that pull nets low, lamps; by name."""
        kinds = {"switches": switches or {}, "buttons": buttons or {}, "lamps": lamps or {}}
        devices.add_panel(self._draft, self._stated, name, **kinds)

    def halt_when(self, net: Net, level: int) -> None:
        """The machine has halted when the net stands at the level."""
        index = net_of(self._draft, net, "what halts the machine").index
        self._stated.halts.append(Halt(index, level_of(level, "the level that halts the machine"), here()))

    def register(self, name: str, nets: Nets) -> None:
        """Nets shown under a name: ``machine["acc"]`` and the report at the end of a run."""
        statements.add_register(self._draft, self._stated, name, nets)

    # Results

    def netlist(self) -> Netlist:
        """The frozen netlist of everything written so far."""
        return frozen(self._draft)

    def statements(self) -> Statements:
        """What was stated besides the wiring."""
        return statements.frozen_statements(self._draft, self._stated)

    def contents(self) -> dict[int, bytes]:
        """Bytes of table ROMs by chip, in the order of the chip's own address pins."""
        return dict(self._stated.contents)


def _indices(nets: Iterable[Net]) -> tuple[int, ...]:
    return tuple(net.index for net in nets)


def _labelled(pins: object) -> Mapping[str, object]:
    """Ports by the labels of the data sheet."""
    if pins is None:
        return {}
    if not isinstance(pins, Mapping):
        raise mistake("M007", f"pins by label are written as a dictionary, not as {kind_of(pins)}")
    return pins


def _idle_of(value: object) -> Idle:
    if not isinstance(value, Idle):
        raise mistake("M007", f"idle is pull_up(), pull_down() or keeper(), not {kind_of(value)}")
    return value
