"""``supply``: currents by chip and board, then the rails of each board as a network, then what to buy.

How boards are wired is not known yet, so each is taken as its chips in their order along one pair of rails, joined
from board to board where they are too many, fed at one end by a pair of wires.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from latchwork.analysis.rails import OHM_PER_CONTACT, OHM_PER_INCH_OF_RAIL, Network, Resistor, wire_ohms
from latchwork.chips.families import family_of
from latchwork.model import Model
from latchwork.netlist import ChipId
from latchwork.reports import supply as reports
from latchwork.tools.supply.activity import seen
from latchwork.tools.supply.currents import Currents, at_rest

RAIL_INCHES = 6.5
JUMPER_INCHES = 2.0
GAP = 0.1
WARM = 1000.0
"""mA above which contacts and thin wire get hot (common practice)."""
MARGIN = 1.5
SIZES = (0.5, 1.0, 1.5, 2.0, 3.0, 5.0, 10.0)
CAUTIONS = (
    "take an isolated supply with a safety mark, fused or with a current limit",
    "contacts and thin wire get hot above about an ampere: feed each board by its own pair of wires",
    "mind the polarity of electrolytic capacitors and of the supply itself",
    "leave the mains side closed: it belongs to licensed people and local codes",
)


@dataclass(frozen=True)
class Asked:
    """``period`` in ps, ``clocks`` to run, ``inches`` and ``gauge`` (AWG) of the feed wires of each board."""

    period: int = 1_000_000
    clocks: int = 500
    inches: float = 8.0
    gauge: int = 22


USUAL = Asked()


def supply(model: Model, asked: Asked = USUAL, *, program: str = "") -> reports.SupplyReport:
    """What the machine draws, and the voltage at each chip."""
    return _Supply(model, asked, program).report()


class _Supply:
    def __init__(self, model: Model, asked: Asked, program: str) -> None:
        self.netlist, self.asked, self.program = model.netlist, asked, program
        graph, self.seen = seen(model, asked.period, asked.clocks)
        self.currents = Currents(graph, self.seen)
        self.volts = model.netlist.supply_millivolts / 1000

    def report(self) -> reports.SupplyReport:
        boards = [self._board(number) for number in range(len(self.netlist.boards))]
        found = [each for each in boards if each is not None]
        chips = tuple(chip for _, chips in found for chip in chips)
        total = sum(board.feed for board, _ in found)
        return reports.SupplyReport(
            machine=self.netlist.name,
            supply=self.volts,
            megahertz=round(1e6 / self.asked.period, 4) if self.seen.seconds else 0.0,
            activity=self.program
            or ("from reset with no program" if self.seen.seconds else "nothing: it has no clock"),
            total=round(total, 1),
            advised=next((size for size in SIZES if size * 1000 >= total * MARGIN), SIZES[-1]),
            boards=tuple(board for board, _ in found),
            chips=chips,
            below=tuple(self._below(chips)),
            heavy=tuple(f"{board.board}: {board.feed:.0f} mA" for board, _ in found if board.feed > WARM),
            cautions=CAUTIONS,
        )

    def _board(self, number: int) -> tuple[reports.BoardSupply, list[reports.ChipSupply]] | None:
        chips = [chip for chip, each in enumerate(self.netlist.chips) if each.board == number]
        drawn = {chip: self._drawn(chip) for chip in chips}
        on_rails = [chip for chip in chips if sum(drawn[chip]) > 0]
        lamps, pulls = self._lamps_and_pulls(chips)
        if not on_rails and not lamps and not pulls:
            return None
        loads = {chip: sum(drawn[chip]) + (lamps + pulls) / max(1, len(on_rails)) for chip in on_rails}
        once, twice = (self._rails(on_rails, loads, feeds) for feeds in (1, 2))
        worst = min(once, key=lambda chip: once[chip], default=None)
        rows = [self._chip(chip, drawn[chip], once[chip]) for chip in on_rails]
        board = reports.BoardSupply(
            board=self.netlist.boards[number].name,
            chips=len(on_rails),
            rest=round(sum(rest for rest, _ in drawn.values()), 1),
            switching=round(sum(moving for _, moving in drawn.values()), 2),
            lamps=round(lamps, 1),
            pulls=round(pulls, 2),
            feed=round(sum(sum(pair) for pair in drawn.values()) + lamps + pulls, 1),
            lowest=round(once[worst], 3) if worst is not None else self.volts,
            worst=self.netlist.chips[worst].reference if worst is not None else "",
            with_second_feed=round(min(twice.values()), 3) if twice else self.volts,
        )
        return board, rows

    def _drawn(self, chip: ChipId) -> tuple[float, float]:
        return at_rest(self.netlist.part_of(chip))[0], self.currents.switching(chip)

    def _lamps_and_pulls(self, chips: list[ChipId]) -> tuple[float, float]:
        """Of nets that chips of the board drive; each net once, at its first driver."""
        lamps = pulls = 0.0
        for net, found in enumerate(self.currents.wiring.drivers):
            if found and found[0].chip in chips and net not in (self.netlist.high, self.netlist.low):
                more = self.currents.lamps_and_pulls(net)
                lamps, pulls = lamps + more[0], pulls + more[1]
        return lamps, pulls

    def _chip(self, chip: ChipId, drawn: tuple[float, float], volts: float) -> reports.ChipSupply:
        part = self.netlist.part_of(chip)
        return reports.ChipSupply(
            chip=self.netlist.chips[chip].reference,
            part=part.name,
            board=self.netlist.boards[self.netlist.chips[chip].board].name,
            rest=round(drawn[0], 3),
            switching=round(drawn[1], 3),
            volts=round(volts, 3),
            origin=at_rest(part)[1],
        )

    # ---- rails

    def _rails(self, chips: list[ChipId], loads: dict[ChipId, float], feeds: int) -> dict[ChipId, float]:
        """Volts between the supply pins of each chip: the drop of both rails, which carry the same currents."""
        if not chips:
            return {}
        places = [f"rail {number}" for number in range(len(chips))]
        resistors = [
            Resistor(f"chip {chip}", place, 2 * OHM_PER_CONTACT + wire_ohms(self.asked.gauge, 1.0))
            for chip, place in zip(chips, places, strict=True)
        ]
        spacing = self._spacing(chips)
        resistors += [Resistor(a, b, ohms) for (a, b), ohms in zip(pairwise(places), spacing, strict=True)]
        wire = 2 * OHM_PER_CONTACT + wire_ohms(self.asked.gauge, self.asked.inches)
        resistors += [
            Resistor("supply", end, wire) for end in dict.fromkeys(places[:: max(1, len(places) - 1)][:feeds])
        ]
        drawn = {f"chip {chip}": loads[chip] / 1000 for chip in chips}
        volts = Network(resistors, {"supply": 0.0}, drawn).voltages()
        return {chip: self.volts + 2 * volts[f"chip {chip}"] for chip in chips}

    def _spacing(self, chips: list[ChipId]) -> list[float]:
        """Ohms of the rail from each chip to the next; a jumper where a board's rail ends."""
        found, used = [], 0.0
        for chip in chips[:-1]:
            inches = len(self.netlist.part_of(chip).pins) / 20 + GAP
            used += inches
            ohms = inches * OHM_PER_INCH_OF_RAIL
            if used > RAIL_INCHES:
                ohms += 2 * OHM_PER_CONTACT + wire_ohms(self.asked.gauge, JUMPER_INCHES)
                used = 0.0
            found.append(ohms)
        return found

    def _below(self, chips: tuple[reports.ChipSupply, ...]) -> Iterator[str]:
        """Chips that get less than their family is made for."""
        parts = {part.name: part for part in self.netlist.parts}
        for chip in chips:
            part = parts[chip.part]
            family = family_of(part)
            least = family.supply[0] if family else 4.5
            if chip.volts < least <= self.volts:
                yield f"{chip.part} {chip.chip} gets {chip.volts:g} V and is made for {least:g} V at least"
