"""The compiled engine: ticks and clocks in machine code, the oracle for everything out of the ordinary.

One of two holds the machine at any moment: the cells of compiled code, or an oracle. Power-up, switches between two
nets, and every tick in which something happens that a bench would show as trouble are the oracle's; compiled code
finds such a tick, undoes it, and hands the machine over. So both are equal by what they do, not by what they say.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from latchwork.devices import Device
from latchwork.engines.compiled.background import collector
from latchwork.engines.compiled.code import Code, Unit
from latchwork.engines.compiled.errors import NotCompilable
from latchwork.engines.compiled.handover import is_calm, mask_of, masks_of, share_memories, to_cells, to_oracle
from latchwork.engines.compiled.hot_clocks import Heat
from latchwork.engines.compiled.moments import Moment, restore_around, saved
from latchwork.engines.compiled.program import planned
from latchwork.engines.compiled.timing import Timing
from latchwork.engines.compiled.turning import Turning, main_oscillator
from latchwork.engines.compiled.watching import Count, Watch
from latchwork.engines.oracle import Oracle
from latchwork.engines.oracle.events import Event
from latchwork.engines.oracle.known import ONE, ZERO
from latchwork.engines.oracle.masks import HIGH, LOW, OFF, VALUES
from latchwork.engines.oracle.oracle import PATIENCE
from latchwork.engines.oracle.timers import hand_at_clock
from latchwork.engines.oracle.wiring import rail_end
from latchwork.engines.protocol import Incident, Value
from latchwork.netlist import ChipId, NetId, Netlist

NO_WATCH = Watch()
AT_A_TIME = 1 << 21  # clocks between two moments at which Python may interrupt
WORTH_IT = 1000  # clocks in one go, from which on it pays to compile whole clocks
SETTLED = 48  # ticks by the oracle after which a new position of switches and probes is worth compiling


class CompiledEngine:
    """A machine under power; fulfils ``engines.protocol.Simulation`` in the seeded reading, equal to ``Oracle``.

    Raises NotCompilable where there is no compiled form, LatchworkError like the oracle. ``native_ticks`` and
    ``oracle_ticks`` count who did the ticks. ``wait``: so many ticks are the oracle's before anything is compiled.
    ``heat``: when clocks are compiled for their control words as well; never if left out. With ``aside`` all is
    compiled beside the run, which goes on by what there is.
    """

    def __init__(
        self,
        netlist: Netlist,
        contents: Mapping[ChipId, bytes] | None = None,
        seed: int = 0,
        unknown: bool = False,
        *,
        patience: int = PATIENCE,
        wait: int = 0,
        heat: Heat | None = None,
        aside: bool = False,
    ) -> None:
        if unknown:
            raise NotCompilable("the unknown reading is the oracle's")
        if aside:
            collector.tidy()
        self.netlist = netlist
        self._oracle = Oracle(netlist, contents, seed, patience=patience, host=self)
        self._wiring = self._oracle._wiring
        self._outside = self._oracle._outside
        self._timing = Timing(self._oracle)
        machine, oscillators = self._oracle._machine, self._oracle._oscillators
        self._main_oscillator = main_oscillator(self._wiring, oscillators, netlist.clock)
        self._turning = None if self._main_oscillator is None else Turning(machine, oscillators, self._main_oscillator)
        self._memories = share_memories(self._oracle)
        self._codes: dict[tuple[frozenset[int], frozenset[NetId]], Code] = {}
        self._code: Code | None = None  # whose cells hold the machine; None while the oracle does
        self._wait = wait
        self._heat = heat
        self._aside = aside
        self._shown = False
        self.worth_it = WORTH_IT
        self.counted = Count(0, False, 0, 0)
        self._skips_asked = 0
        self._last_watch: tuple[Watch | None, Watch] = None, NO_WATCH
        self._watches: dict[Watch, Watch] = {}
        self.native_ticks = 0
        self.oracle_ticks = 0
        self._configuration()

    # Who holds the machine

    def _configuration(self) -> Code:
        """The code for the switches and probes as they are; not compiled before it is used."""
        oracle = self._oracle
        nets = oracle._machine.nets
        key = oracle._closed, frozenset(nets.forced)
        if key not in self._codes:
            plan = planned(
                self._wiring,
                nets.grouping,
                nets.choice,
                nets.forced,
                bound=oracle._rounds.bound,
                clock_slot=self._main_oscillator,
            )
            self._codes[key] = Code(plan, self._memories, self._heat, aside=self._aside)
        return self._codes[key]

    def _taken(self) -> Code | None:
        """The code that now holds the machine; None where the oracle has to go on."""
        if self._code is None and is_calm(self._oracle):
            code = self._configuration()
            if not code.compiled and self._wait > 0:
                self._wait -= 1
                return None
            if not code.ready(Unit.TICKS):
                return None
            to_cells(self._oracle, code.plan, code.cells)
            code.prime()
            code.taken()
            self._code, self._shown = code, False
        return self._code

    def _plain(self) -> Oracle:
        """The oracle, which now holds the machine."""
        if self._code is not None:
            code, self._code = self._code, None
            to_oracle(self._oracle, code.plan, code.cells, code.show)
        return self._oracle

    def _settled(self, act: Callable[[Code], object]) -> bool:
        """Change something in the cells and settle. False, with everything as before, where that is the oracle's."""
        code = self._taken()
        if code is None:
            return False
        before, times = code.live(), self._timing.saved()
        act(code)
        self._shown = False
        if code.tick():
            code.undo(before)
            self._timing.undo(times)
            return False
        self._timing.heed(code)
        self.native_ticks += 1
        self._outside.after_tick()
        return True

    @property
    def hot_clocks(self) -> int:
        """Clocks that went by in code written for their control words."""
        return sum(code.hot_clocks for code in self._codes.values())

    # Time

    @property
    def time_ps(self) -> int:
        return self._oracle.time_ps

    @property
    def ticks(self) -> int:
        return self._code.count("ticks") if self._code else self._oracle.ticks

    @property
    def clocks(self) -> int:
        return self._code.count("clocks") if self._code else self._oracle.clocks

    @property
    def next_time(self) -> int | None:
        return self._oracle.next_time

    @property
    def incidents(self) -> Sequence[Incident]:
        return self._oracle.incidents

    def tick(self) -> bool:
        """Go to the next event and settle. False where nothing will ever happen again."""
        if self._oracle.next_time is None:
            return False
        if not self._settled(self._timing.apply_next):
            self.oracle_ticks += 1
            return self._plain().tick()
        return True

    def run(self, clocks: int) -> int:
        """Run until so many rising edges of the main clock have passed; returns how many did. Gives up as the oracle
        does."""
        start, still, last = self.clocks, 0, self.clocks
        hand = hand_at_clock(self._wiring)
        while self.clocks - start < clocks and still < self._oracle.patience:
            ticks = self.ticks
            if hand is not None and not self._oracle._hand_is_coming(hand):
                self._work_hand(hand)
            if not self._fast(clocks - (self.clocks - start)) and not self.tick():
                break
            still = 0 if self.clocks != last else still + self.ticks - ticks
            last = self.clocks
        return self.clocks - start

    def _work_hand(self, hand: ChipId) -> None:
        slot = self._oracle._hands[hand]
        held = self._code.slot(slot) if self._code else self._oracle._machine.bits[slot]
        from latchwork.engines.oracle.oracle import HAND_HALF

        machine = self._oracle._machine
        machine.queue.add(machine.time + HAND_HALF, Event(slot, "set", ZERO if held else ONE))

    def _fast(self, clocks: int) -> bool:
        """Whole clocks, as long as nothing but the main clock turns; whether time passed."""
        code = self._taken()
        clocks = self._whole_clocks(code, clocks)
        if code is None or clocks < 1 or (clocks < self.worth_it and not code.has_clocks):
            return False
        watch = self._watched(NO_WATCH)
        if not code.ready(watch if watch.edges else Unit.CLOCKS):
            return False
        return self._passed(code, lambda: code.skip(watch, clocks) if watch.edges else code.run(clocks)) > 0

    def _whole_clocks(self, code: Code | None, most: int) -> int:
        """How many clocks may run by before anything but the main clock turns, from its falling edge on."""
        if code is None or self._turning is None or not code.slot(self._turning.slot):
            return 0
        return min(most, self._turning.free // 2, AT_A_TIME, self._oracle.patience // 2)

    def skip(self, watch: Watch, clocks: int) -> int:
        """Up to so many whole clocks, as long as nothing comes that is watched for; how many. None at first: a run
        must be long before it pays to compile them."""
        self._skips_asked += 1
        code = self._taken()
        clocks = self._whole_clocks(code, clocks)
        if code is None or clocks < 1 or self._skips_asked < self.worth_it:
            return 0
        all_of_it = self._watched(watch)
        if not code.ready(all_of_it):
            return 0
        for place, number in enumerate(self.counted):
            code.set("counter", place, int(number))
        done = self._passed(code, lambda: code.skip(all_of_it, clocks))
        count, at_start, *rest = (code.get("counter", place) for place in range(5))
        self.counted = Count(count, bool(at_start), *rest)
        return done // 2

    def _watched(self, watch: Watch) -> Watch:
        """What is watched for, with the edges that devices wait for."""
        if self._last_watch[0] is not watch:
            found = replace(watch, edges=self._outside.attached.watches)
            self._last_watch = watch, self._watches.setdefault(found, found)
        return self._last_watch[1]

    def _passed(self, code: Code, act: Callable[[], object]) -> int:
        """Let clocks run by; how many ticks did."""
        assert self._turning is not None
        before = code.count("ticks")
        self._shown = False
        act()
        done = code.count("ticks") - before
        self.native_ticks += done
        self._turning.passed(done)
        self._timing.heed(code)
        if done:
            self._outside.attached.looked()
        return done

    # Looking

    def _mask(self, net: NetId) -> int:
        code = self._code
        if code is None:
            return self._oracle._machine.nets.final[net]
        self._show(code)
        return mask_of(code.plan, code.cells, net)

    def _show(self, code: Code) -> None:
        if not self._shown:
            code.show()
            self._shown = True

    def value(self, net: NetId) -> Value:
        return VALUES[self._mask(net)]

    def values(self, nets: Sequence[NetId]) -> list[Value]:
        if self._code is None:
            return self._oracle.values(nets)
        self._show(self._code)
        return [VALUES[mask] for mask in masks_of(self._code.plan, self._code.cells, nets)]

    def read(self, nets: Iterable[NetId]) -> int | None:
        if self._code is None:
            return self._oracle.read(nets)
        self._show(self._code)
        masks = masks_of(self._code.plan, self._code.cells, nets)
        return None if OFF in masks else sum((mask == HIGH) << index for index, mask in enumerate(masks))

    def state(self, chip: ChipId, name: str) -> int | None:
        slot = self._oracle._slot(chip, name)
        return self._code.slot(slot) if self._code else self._oracle._machine.bits[slot]

    def state_bits(self, chip: ChipId, name: str) -> tuple[int, int]:
        slot = self._oracle._slot(chip, name)
        return self.state(chip, name) or 0, self._oracle._machine.full[slot]

    def memory(self, chip: ChipId, name: str = "") -> Sequence[int]:
        return self._oracle.memory(chip, name)

    def cell(self, chip: ChipId, address: int, name: str = "") -> int:
        return self._oracle.cell(chip, address, name)

    def power_up_reads(self) -> dict[tuple[ChipId, str], tuple[int, ...]]:
        return self._oracle.power_up_reads()

    def unknown_states(self) -> list[tuple[ChipId, str]]:
        return []

    def forget_incidents(self) -> None:
        self._oracle.forget_incidents()

    # Hands and probes

    def set_switch(self, chip: ChipId, closed: bool, tie: str = "") -> None:
        number = self._oracle._tie(chip, tie)
        if rail_end(self._wiring, self._wiring.ties[number]) is None:
            self._wait = SETTLED
        elif self._settled(lambda code: code.set("ties", number, int(closed))):
            return
        self._plain().set_switch(chip, closed, tie)

    def set_hand(self, chip: ChipId, level: int) -> None:
        slot = self._oracle._hands.get(chip)
        if slot is None or not self._settled(lambda code: code.set_slot(slot, int(bool(level)))):
            self._plain().set_hand(chip, level)

    def force(self, net: NetId, level: int | None) -> None:
        self.force_all({net: level})

    def force_all(self, levels: Mapping[NetId, int | None]) -> None:
        nets = self._oracle._machine.nets
        if any(level is None or net not in nets.forced for net, level in levels.items()):
            self._wait = SETTLED
            self._plain().force_all(levels)
            return
        held = dict(nets.forced)
        for net, level in levels.items():
            nets.forced[net] = HIGH if level else LOW
        groups = {nets.grouping.group[net]: mask >> 1 for net, mask in nets.forced.items()}
        if not self._settled(lambda code: code.set_forced(groups)):
            nets.forced.update(held)
            self._plain().force_all(levels)

    def set_state(self, chip: ChipId, name: str, value: int) -> None:
        slot = self._oracle._slot(chip, name)
        fits = 0 <= value <= self._oracle._machine.full[slot]
        if not fits or not self._settled(lambda code: code.set_slot(slot, value)):
            self._plain().set_state(chip, name, value)

    def write_memory(self, chip: ChipId, contents: bytes, start: int = 0, name: str = "") -> None:
        self._plain().write_memory(chip, contents, start, name)

    # Devices

    def attach(self, device: Device) -> None:
        oracle = self._plain()
        self._codes.clear()
        self._last_watch = None, NO_WATCH
        oracle.attach(device)

    def send(self, device: str, data: bytes) -> None:
        self._oracle.send(device, data)

    def plan_drive(self, time: int, driver: int, level: int | None) -> None:
        self._oracle.plan_drive(time, driver, level)

    def plan_wake(self, time: int, device: int) -> None:
        self._oracle.plan_wake(time, device)

    def hear(self, ear: Callable[[str, bytes], object] | None) -> None:
        self._oracle.hear(ear)

    def save(self) -> object:
        return saved(self._oracle, self._code, self._memories) if self._code else self._oracle.save()

    def restore(self, saved: object) -> None:
        self._code = None
        if not isinstance(saved, Moment):
            self._oracle.restore(saved)
            return
        restore_around(saved, self._oracle, self._memories)
        code = self._configuration()
        code.put_back(saved.cells)
        self._code, self._shown = code, False
