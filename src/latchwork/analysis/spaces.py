"""Where the memories of an address space answer, and how their pins are wired to it: read from the netlist.

All addresses of the space are put on its address nets at once, one lane each (see ``lanes``). Where a chip may show
its word is where it answers; what its address pins carry there is the cell it shows; and the data nets are followed
back through buffers, inverters and selectors to its data pins. Lines that nothing is known of may be at work or not.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from latchwork.analysis.levels import Bit, Given, Lanes
from latchwork.analysis.wiring import Wiring
from latchwork.logic import Expression, Operation
from latchwork.model import Space
from latchwork.netlist import ChipId, NetId, Netlist, PinRef
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import Driver, MemoryPins, chip_name, memory_pins, net_name, pin_name
from latchwork.problems import Label, LatchworkError, Problem

FILL = 0xFF
MOST_ADDRESS_BITS = 20


@dataclass(frozen=True)
class Region:
    """A run of ``size`` addresses from ``start`` at which a chip answers.

    ``address_map``: for each address bit of the chip the bit of the space's address on it, -1 where the pin carries
    something else (a constant, an inverted bit). ``cells``: for each address of the run the chip's own address.
    ``data_map``: for each data bit of the chip the space's data bit, -1 where it is not wired to one; those in
    ``inverted`` (a mask of chip bits) pass an inverter. ``writable``: its write strobe can be at work there.
    """

    chip: ChipId
    start: int
    size: int
    address_map: tuple[int, ...]
    data_map: tuple[int, ...]
    writable: bool
    cells: tuple[int, ...] = field(repr=False)
    words: int = 0  # that the whole chip holds
    keeps: bool = False  # contents outlive power
    inverted: int = 0

    @property
    def end(self) -> int:
        return self.start + self.size

    @property
    def bits(self) -> int:
        """Mask of the space's data bits that the chip holds."""
        return sum(1 << bit for bit in self.data_map if bit >= 0)

    def stored(self, word: int) -> int:
        """What the chip's cell holds so that the space shows ``word``; bits that are not wired are 1."""
        cell = (1 << len(self.data_map)) - 1
        for place, bit in enumerate(self.data_map):
            if bit >= 0 and (word >> bit ^ self.inverted >> place) & 1 == 0:
                cell &= ~(1 << place)
        return cell

    def shown(self, cell: int) -> int:
        """The bits of a word of the space that a cell of the chip gives."""
        levels = cell ^ self.inverted
        return sum((levels >> place & 1) << bit for place, bit in enumerate(self.data_map) if bit >= 0)


@dataclass(frozen=True)
class SpaceMap:
    """The regions of a space in the order of addresses, and what stands in the way of knowing them all."""

    space: Space
    regions: tuple[Region, ...]
    problems: tuple[Problem, ...] = ()

    def covered(self, address: int) -> int:
        """Mask of the data bits that memories hold at the address."""
        found = 0
        for region in self.regions:
            if region.start <= address < region.end:
                found |= region.bits
        return found


def map_space(netlist: Netlist, space: Space, wiring: Wiring | None = None) -> SpaceMap:
    """Works out where the memories of a space answer."""
    if len(space.address) > MOST_ADDRESS_BITS:
        message = f"space `{space.name}` has {len(space.address)} address bits; {MOST_ADDRESS_BITS} are the most"
        return SpaceMap(space, (), (Problem("M401", message, (Label(space.position),)),))
    reader = _Reader(netlist, space, wiring or Wiring(netlist))
    regions = sorted((r for chip in space.chips for r in reader.chip(chip)), key=lambda region: region.start)
    reader.find_meetings(regions)
    return SpaceMap(space, tuple(regions), tuple(reader.problems))


class _Reader:
    def __init__(self, netlist: Netlist, space: Space, wiring: Wiring) -> None:
        self.netlist, self.space, self.wiring = netlist, space, wiring
        self.count = 1 << len(space.address)
        self.patterns = [_pattern(bit, len(space.address)) for bit in range(len(space.address))]
        every = (1 << self.count) - 1
        nets = {net: Bit(every * level, every * (1 - level)) for net, level in space.when}
        nets |= {net: Bit(one, every ^ one) for net, one in zip(space.address, self.patterns, strict=True)}
        self.lanes = Lanes(wiring, self.count, Given(nets=nets))
        self.paths = [_sources(wiring, net) for net in space.data]
        self.problems: list[Problem] = []

    def chip(self, chip: ChipId) -> Iterator[Region]:
        """The regions of one chip."""
        pins = memory_pins(self.netlist.part_of(chip))
        if pins is None:
            self.complain("M402", f"{self._named(chip)} is not a memory whose pins can be followed", chip)
            return
        data = self._data_map(chip, pins)
        answers = self._answers(chip, pins)
        if data is None:
            return
        if not answers:
            message = f"{self._named(chip)} answers at no address of `{self.space.name}`"
            self.complain("M404", message, chip, "follow its enable pins")
            return
        levels = [self._level(chip, pin) for pin in pins.address]
        if self._loose(chip, pins, levels, answers):
            return
        yield from self._regions(chip, data, answers, levels)

    def _regions(
        self, chip: ChipId, data: tuple[tuple[int, ...], int], answers: int, levels: Sequence[Bit]
    ) -> Iterator[Region]:
        memory = self.netlist.part_of(chip).behaviour.memories[0]
        columns = [_lane_text(level.one, self.count) for level in reversed(levels)]
        strobes = self._strobes(chip)
        address_map = tuple(self._address_bit(level) for level in levels)
        for run in re.finditer("1+", _lane_text(answers, self.count)):
            start, end = run.span()
            cells = tuple(int("".join(bits), 2) for bits in zip(*(c[start:end] for c in columns), strict=True))
            writable = bool(strobes >> start & ((1 << end - start) - 1))
            yield Region(
                chip, start, end - start, address_map, data[0], writable, cells,
                1 << memory.address_width, memory.keeps, data[1],
            )  # fmt: skip

    # ---- where it answers

    def _answers(self, chip: ChipId, pins: MemoryPins) -> int:
        """The lanes in which the chip may show its word."""
        found = 0
        behaviour = self.netlist.part_of(chip).behaviour
        ports = self.netlist.part_of(chip).ports
        for number, drive in enumerate(behaviour.drives):
            if set(ports[drive.port]) & set(pins.data):
                found |= self.lanes.enable(Driver(chip, number, 0, ports[drive.port][0])).one
        return found

    def _strobes(self, chip: ChipId) -> int:
        """The lanes in which a write strobe may be at work."""
        found = 0
        for write in self.netlist.part_of(chip).behaviour.memories[0].writes:
            found |= self.lanes.bit(chip, write.strobe, 0).one
        return found

    # ---- address pins

    def _level(self, chip: ChipId, pin: int) -> Bit:
        net = self.netlist.chips[chip].pins[pin]
        return self.lanes.unknown if net == NO_NET else self.lanes.net(net)

    def _address_bit(self, level: Bit) -> int:
        return self.patterns.index(level.one) if level.one in self.patterns else -1

    def _loose(self, chip: ChipId, pins: MemoryPins, levels: Sequence[Bit], answers: int) -> bool:
        """Whether an address pin carries something unknown; then it is said what to state."""
        loose = [pin for pin, level in zip(pins.address, levels, strict=True) if level.one & level.zero & answers]
        for pin in loose:
            net = self.netlist.chips[chip].pins[pin]
            place = f"{pin_name(self.netlist, PinRef(chip, pin))} carries {self._quoted(net)}"
            message = f"{place}, which is no address bit of `{self.space.name}` and has no known level"
            known = f'state the level it has while programs run: `m.assume("{net_name(self.netlist, net)}", LOW)`'
            known += ", or `when=` of the space where programs change it"
            self.complain("M403", message, chip, "join it to a rail" if net == NO_NET else known)
        return bool(loose)

    def _quoted(self, net: NetId) -> str:
        return "no net" if net == NO_NET else f"`{net_name(self.netlist, net)}`"

    # ---- data pins

    def _data_map(self, chip: ChipId, pins: MemoryPins) -> tuple[tuple[int, ...], int] | None:
        """The space's bit on each data pin, and a mask of the inverted ones; None where there is none at all."""
        found, inverted = [], 0
        for place, pin in enumerate(pins.data):
            bit, turned = self._data_bit(chip, pin)
            found.append(bit)
            inverted |= turned << place
        if all(bit < 0 for bit in found):
            message = f"no data pin of {self._named(chip)} reaches the data nets of `{self.space.name}`"
            self.complain("M405", message, chip, "buffers, inverters and selectors are followed, registers are not")
            return None
        return tuple(found), inverted

    def _data_bit(self, chip: ChipId, pin: int) -> tuple[int, bool]:
        net = self.netlist.chips[chip].pins[pin]
        ways = sorted((*path[net], bit) for bit, path in enumerate(self.paths) if net in path)
        if len(ways) > 1 and ways[0][0] == ways[1][0]:
            bits = " and ".join(self._quoted(self.space.data[bit]) for _, _, bit in ways[:2])
            message = f"{pin_name(self.netlist, PinRef(chip, pin))} reaches both {bits}"
            self.complain("M406", message, chip, "no image fits both; give the space other data nets")
        return (ways[0][2], ways[0][1]) if ways else (-1, False)

    # ---- several chips

    def find_meetings(self, regions: Sequence[Region]) -> None:
        """Notes chips that answer at the same addresses with the same data bits."""
        told = set()
        for first, second in _meetings(regions):
            pair = (first.chip, second.chip)
            if pair in told:
                continue
            told.add(pair)
            names = f"{self._named(first.chip)} and {self._named(second.chip)}"
            message = f"{names} may both answer at ${second.start:x} of `{self.space.name}`"
            help = "if a bank line chooses between them, state its level with `m.assume`, or with `when=` of the space"
            self.complain("M407", message, second.chip, help)

    def _named(self, chip: ChipId) -> str:
        return chip_name(self.netlist, chip)

    def complain(self, code: str, message: str, chip: ChipId, help: str = "") -> None:
        place = Label(self.netlist.chips[chip].position, self._named(chip))
        labels = (place, Label(self.space.position, f"space `{self.space.name}`"))
        self.problems.append(Problem(code, message, labels, help))


def _meetings(regions: Sequence[Region]) -> Iterator[tuple[Region, Region]]:
    open_regions: list[Region] = []
    for region in regions:
        open_regions = [other for other in open_regions if other.end > region.start]
        yield from ((other, region) for other in open_regions if other.bits & region.bits and other.chip != region.chip)
        open_regions.append(region)


def _pattern(bit: int, width: int) -> int:
    """The lanes whose number has the bit."""
    run = 1 << bit
    piece = ((1 << run) - 1) << run
    for doubling in range(bit + 1, width):
        piece |= piece << (1 << doubling)
    return piece


def _lane_text(lanes: int, count: int) -> str:
    """A 0 or 1 for each lane, the first lane first."""
    return format(lanes, f"0{count}b")[::-1]


# ---- following data nets back


def _sources(wiring: Wiring, start: NetId) -> dict[NetId, tuple[int, bool]]:
    """Nets whose level a net may show unchanged or inverted: how many parts lie between, and whether it is turned."""
    found = {start: (0, False)}
    front = [start]
    while front:
        following = []
        for net in front:
            distance, turned = found[net]
            for source, inverts in _shown_at(wiring, net):
                if source != NO_NET and source not in found:
                    found[source] = (distance + 1, turned != inverts)
                    following.append(source)
        front = following
    return found


def _shown_at(wiring: Wiring, net: NetId) -> Iterator[tuple[NetId, bool]]:
    netlist = wiring.netlist
    for driver in wiring.drivers[net]:
        ports, pins = netlist.part_of(driver.chip).ports, netlist.chips[driver.chip].pins
        for name, bit, turned in _variables(wiring.drive(driver).value, driver.bit):
            if name in ports:
                yield pins[ports[name][bit]], turned


def _variables(node: Expression, bit: int, turned: bool = False) -> Iterator[tuple[str, int, bool]]:
    """The variable bits that an expression passes on unchanged or inverted."""
    match node.operation:
        case Operation.VARIABLE:
            yield str(node.data), bit, turned
        case Operation.NOT:
            yield from _variables(node.args[0], bit, not turned)
        case Operation.SLICE:
            yield from _variables(node.args[0], bit + int(node.data), turned)  # type: ignore[arg-type]
        case Operation.MUX | Operation.CASE:
            for argument in node.args[1:]:
                yield from _variables(argument, bit, turned)
        case Operation.CONCAT:
            ends = [0]
            for argument in node.args:
                ends.append(ends[-1] + argument.width)
            for argument, (low, high) in zip(node.args, pairwise(ends), strict=True):
                if low <= bit < high:
                    yield from _variables(argument, bit - low, turned)


# ---- images


def image_for(regions: Sequence[Region], words: Mapping[int, int], fill: int = FILL) -> dict[ChipId, bytes]:
    """The bytes of every chip, by its own address pins, so that the space shows ``words`` at their addresses.

    Chips that no word touches are left out. Raises LatchworkError where two addresses that show one cell of a chip
    are to show different words.
    """
    return images_for([("", regions, words)], fill)


def images_for(
    placed: Iterable[tuple[str, Sequence[Region], Mapping[int, int]]], fill: int = FILL
) -> dict[ChipId, bytes]:
    """The same for several spaces, which may have chips in common: (name of the space, its regions, its words)."""
    images: dict[ChipId, bytearray] = {}
    owners: dict[tuple[ChipId, int], tuple[int, str]] = {}
    for space, regions, words in placed:
        for region in regions:
            for address in range(region.start, region.end):
                if address not in words:
                    continue
                image = images.setdefault(region.chip, bytearray([fill]) * region.words)
                cell, value = region.cells[address - region.start], region.stored(words[address])
                first = owners.setdefault((region.chip, cell), (address, space))
                if first != (address, space) and image[cell] != value:
                    raise _one_cell(first, (address, space))
                image[cell] = value
    return {chip: bytes(image) for chip, image in images.items()}


def _one_cell(first: tuple[int, str], second: tuple[int, str]) -> LatchworkError:
    one, other = (f"${address:x} of `{space}`" if first[1] != second[1] else f"${address:x}"
                  for address, space in (first, second))  # fmt: skip
    message = f"{one} and {other} are one cell of a chip, and the program wants two words there"
    spaces = "; bank settings choose between spaces" if first[1] != second[1] else ""
    return LatchworkError(Problem("M408", message, (), f"the chip's decoding leaves address bits out{spaces}"))


def words_of(regions: Sequence[Region], contents: Mapping[ChipId, bytes]) -> dict[int, int]:
    """What the space shows at every address of the chips whose contents are given: ``image_for`` read back."""
    found: dict[int, int] = {}
    for region in regions:
        content = contents.get(region.chip)
        if content is None:
            continue
        for address, cell in enumerate(region.cells, start=region.start):
            if cell < len(content):
                found[address] = found.get(address, 0) | region.shown(content[cell])
    return found
