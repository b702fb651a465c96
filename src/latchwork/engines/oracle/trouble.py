"""What a bench would show as trouble, found while the machine runs and entered in the log."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from latchwork.engines.oracle.elements import Element, Sense
from latchwork.engines.oracle.incidents import IncidentLog
from latchwork.engines.oracle.known import Pair
from latchwork.engines.oracle.machine import Machine
from latchwork.engines.oracle.masks import HIGH, LOW, OFF
from latchwork.engines.oracle.wiring import Bound
from latchwork.engines.protocol import Incident
from latchwork.logic.evaluate import evaluate_known, mask
from latchwork.netlist import ChipId, NetId

NAMED = 4  # so many nets are named in a sentence


class Trouble:
    """Hears of everything that is kept. ``round`` is the number of the round within the tick, from 0."""

    def __init__(self, machine: Machine, log: IncidentLog) -> None:
        self.machine = machine
        self.log = log
        self.round = 0
        self.tick = 0
        self.fighting: set[tuple[NetId, tuple[ChipId, ...]]] = set()
        self.turning: dict[Sense, Element] = {}
        self.devices: list[str] = []  # by number; as a driver, device n goes by -2 - n
        machine.nets.on_oscillation = self.oscillates

    # While rounds go on

    def taken(self, chip: ChipId, bound: Bound, before: bool) -> None:
        """A value was kept: report the nets without level on which it depends."""
        if bound.kind == 0:
            return
        masks = self.machine.masks_before if before else self.machine.nets.final
        floating = [net for net in bound.nets if masks[net] == OFF]
        for net in floating:
            if self._depends(chip, bound, net, before):
                self._report("floating", (net,), (chip,), f"{self._chip(chip)} kept a value that depends on "
                             f"{self._net(net)}, which nothing drives")  # fmt: skip

    def _depends(self, chip: ChipId, bound: Bound, net: NetId, before: bool) -> bool:
        """Whether the value is another one for another level of one net."""
        environment = (self.machine.before if before else self.machine.now)[bound.kind]
        ports: dict[str, Pair] = {}
        memories = {}
        for place, number in zip(bound.function.layout, bound.places, strict=True):
            bits, known = ports.get(place.name, (0, 0))
            if place.kind == "port":
                known |= int(number != net) << place.bit
                bits |= (environment[0][number] << place.bit) & known
                ports[place.name] = bits, known
            elif place.kind == "state":
                ports[place.name] = environment[2][number], mask(self.machine.wiring.slots[number].width)
            else:
                cells = self.machine.cells[number]
                memories[place.name] = lambda address, cells=cells: cells.pair(address[0])
        return evaluate_known(bound.expression, ports, memories)[1] != mask(bound.expression.width)

    def clocked(self, element: Element, bound: Bound, value: Pair) -> None:
        """In a later round than the first the clock is derived: data that change with it are in a race."""
        if not self.round:
            return
        now = self.machine.evaluate(bound)
        if (now[0] ^ value[0]) & now[1] & value[1]:
            nets = tuple(net for net in bound.nets if self._changed(net))
            self._report("race", nets, (element.chip,), f"{self._chip(element.chip)} is clocked by a derived edge, and "
                         f"its data {self._nets(nets)} changed with that edge; it took the old ones")  # fmt: skip

    def _changed(self, net: NetId) -> bool:
        return self.machine.masks_before[net] != self.machine.nets.final[net]

    def moved(self, chip: ChipId, address: Bound) -> None:
        nets = tuple(net for net in address.nets if self._changed(net))
        self._report("moving address", nets, (chip,),
                     f"the address {self._nets(nets)} moved while {self._chip(chip)} was being written")  # fmt: skip

    def turned(self, element: Element, sense: Sense) -> None:
        self.turning[sense] = element

    def oscillates(self, nets: Collection[NetId]) -> None:
        named = tuple(sorted(nets))
        self._report("oscillation", named, (), f"the loop through {self._nets(named)} does not settle")

    def never_rests(self, nets: Collection[NetId], chips: Collection[ChipId]) -> None:
        named, of = tuple(sorted(nets)), tuple(sorted(chips))
        self._report("oscillation", named, of, f"{self._chips(of)} keep changing within one tick, with "
                     f"{self._nets(named)}")  # fmt: skip

    def rails_shorted(self, chip: ChipId) -> None:
        rails = self.machine.wiring.netlist.high, self.machine.wiring.netlist.low
        self._report("fight", rails, (chip,), f"{self._chip(chip)} joins supply and ground")

    # When a tick is over

    def tick_over(self) -> None:
        """Report what stands at the end of a tick, and what came and went within it."""
        self._short_pulses()
        self._fights()
        self._early_reads()

    def _short_pulses(self) -> None:
        for sense, element in self.turning.items():
            if sense.turns > 1:
                nets = sense.bound.nets
                self._report("short pulse", nets, (element.chip,), f"{self._nets(nets)} gave {self._chip(element.chip)}"
                             " a pulse that came and went between two rounds")  # fmt: skip
            sense.turns = 0
        self.turning.clear()

    def _fights(self) -> None:
        if not self.machine.nets.suspects and not self.fighting:
            return
        now = self.fights_now()
        for net, chips in sorted(now - self.fighting):
            real = tuple(chip for chip in chips if chip >= 0)
            self._report("fight", (net,), real, f"{self._chips(chips)} drive {self._net(net)} to different levels")
        self.fighting = now

    def fights_now(self) -> set[tuple[NetId, tuple[ChipId, ...]]]:
        """The nets that chips certainly drive to different levels as things stand, with the chips."""
        now = set()
        for net in sorted(self.machine.nets.suspects):
            low, high = self._drivers(net, LOW), self._drivers(net, HIGH)
            if low and high:
                now.add((net, tuple(sorted({*low, *high} - {-1}))))
        return now

    def _drivers(self, net: NetId, level: int) -> list[ChipId]:
        """The chips that certainly drive a net to a level; -1 for the supply."""
        nets, grouping = self.machine.nets, self.machine.nets.grouping
        if net in nets.forced_groups:
            return []
        numbers = {number for number in grouping.contributions[net] if nets.masks[number] == level}
        chips = [self.machine.chip_of_contribution[number] for number in sorted(numbers)]
        ties = [tie for tie, mask_ in grouping.rails[net] if mask_ == level and tie in nets.closed]
        rail = [-1] if nets.fixed.get(net) == level else []
        return chips + [self.machine.wiring.ties[tie].chip for tie in ties] + rail

    def _early_reads(self) -> None:
        for number, cells in enumerate(self.machine.cells):
            if cells.early_new:
                cells.early_new = False
                chip = self.machine.wiring.stores[number].chip
                self._report("power-up read", (), (chip,), f"{self._chip(chip)} showed a cell that nothing was written "
                             f"to since power-up, the first at address {cells.first_early:#x}")  # fmt: skip

    # Words

    def _report(self, kind: str, nets: tuple[NetId, ...], chips: tuple[ChipId, ...], sentence: str) -> None:
        self.log.add(Incident(kind, self.machine.time, self.tick, nets, chips, sentence))

    def _net(self, net: NetId) -> str:
        return self.machine.wiring.names[net]

    def _nets(self, nets: Collection[NetId]) -> str:
        names = [self._net(net) for net in nets]
        return _listed(names[:NAMED]) + (f" and {len(names) - NAMED} more" if len(names) > NAMED else "")

    def _chip(self, chip: ChipId) -> str:
        if chip < 0:
            return f'the device "{self.devices[-2 - chip]}"'
        row = self.machine.wiring.netlist.chips[chip]
        part = self.machine.wiring.netlist.part_of(chip).name
        return f"{part} {row.reference}" + (f" ({row.label})" if row.label else "")

    def _chips(self, chips: Iterable[ChipId]) -> str:
        return _listed([self._chip(chip) for chip in chips])


def _listed(words: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1]))) if words else "nothing"
