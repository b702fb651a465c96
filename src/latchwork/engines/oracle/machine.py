"""The state of a machine under power, now and in the settled round before, and what looks at which part of it."""

from __future__ import annotations

from latchwork.engines.oracle.cells import Cells, CellsBefore
from latchwork.engines.oracle.events import Queue
from latchwork.engines.oracle.functions import Environment
from latchwork.engines.oracle.known import UNKNOWN, Pair
from latchwork.engines.oracle.masks import EITHER, LOW
from latchwork.engines.oracle.nets import Nets
from latchwork.engines.oracle.wiring import Bound, Slot, Store, Wiring
from latchwork.engines.seeding import seeded
from latchwork.logic.evaluate import mask
from latchwork.netlist import ChipId


class Machine:
    """``now`` and ``before`` are environments by kind of input (open inputs read high; anything)."""

    def __init__(self, wiring: Wiring, contents: dict[ChipId, bytes], seed: int) -> None:
        self.wiring = wiring
        self.seed = seed
        self.known = wiring.known
        self.full = [mask(slot.width) for slot in wiring.slots]
        self.cells = [self._cells(number, store, contents) for number, store in enumerate(wiring.stores)]
        count = len(wiring.names)
        bits, certain = [0] * len(wiring.slots), [0] * len(wiring.slots)
        cells_before = [CellsBefore(cells) for cells in self.cells]
        self.now = self._environments(count, bits, certain, self.cells)
        self.before = self._environments(count, list(bits), list(certain), cells_before)
        self.bits, self.certain = bits, certain
        choice = [EITHER if self.known else LOW + seeded(seed, f"net {name}") for name in wiring.names]
        self.nets = Nets(wiring, choice, self.now)
        if not self.known:
            self.nets.kept = [LOW + seeded(seed, keeper.key) for keeper in wiring.keepers]
        self.masks_before = list(self.nets.final)
        self.chip_of_contribution = [drive.chip for drive in wiring.drives for _ in drive.outputs]
        self.queue = Queue()
        self.time = 0
        self.slot_readers: list[list[int]] = [[] for _ in wiring.slots]
        self.store_readers: list[list[int]] = [[] for _ in wiring.stores]
        for number, drive in enumerate(wiring.drives):
            for slot in drive.bound.slots:
                self.slot_readers[slot].append(number)
            for store in drive.bound.stores:
                self.store_readers[store].append(number)

    @staticmethod
    def _environments(count: int, bits: list[int], certain: list[int], cells: list) -> tuple[Environment, Environment]:  # type: ignore[type-arg]
        high, anything = ((([0] * count), [0] * count, bits, certain, cells) for _ in range(2))
        return high, anything

    def _cells(self, number: int, store: Store, contents: dict[ChipId, bytes]) -> Cells:
        memory = store.memory
        given = contents.get(store.chip, b"") if self._takes_contents(number, store) else b""
        step, full = (memory.width + 7) // 8, mask(memory.width)

        def stated(address: int) -> bool:
            return memory.keeps or address * step < len(given)

        def power_up(address: int) -> int | Pair:
            if stated(address):
                word = given[address * step : (address + 1) * step]
                value = int.from_bytes(word.ljust(step, b"\xff"), "little") & full
                return (value, full) if self.known else value
            return UNKNOWN if self.known else seeded(self.seed, f"{store.key}.{address}", memory.width)

        return Cells(memory.width, power_up, stated, self.known)

    def _takes_contents(self, number: int, store: Store) -> bool:
        """Contents belong to the chip's first memory that keeps, or to its first where none does."""
        same = [other for other in self.wiring.stores if other.chip == store.chip]
        return store is ([other for other in same if other.memory.keeps] or same)[0]

    def power_up_value(self, slot: Slot) -> Pair:
        """Of a register or latch."""
        if slot.wakes is not None:
            return slot.wakes, mask(slot.width)
        return UNKNOWN if self.known else (seeded(self.seed, slot.key, slot.width), mask(slot.width))

    def evaluate(self, bound: Bound) -> Pair:
        """With the nets and states as they are."""
        pair: Pair = bound.function.call(self.now[bound.kind], bound.places)
        return pair

    def evaluate_before(self, bound: Bound) -> Pair:
        """With all as it was in the settled round before."""
        pair: Pair = bound.function.call(self.before[bound.kind], bound.places)
        return pair

    def held(self, slot: int) -> Pair:
        return self.bits[slot], self.certain[slot]

    def store_slot(self, slot: int, value: Pair) -> bool:
        """Put a value into a state; whether that changed it."""
        if value == (self.bits[slot], self.certain[slot]):
            return False
        self.bits[slot], self.certain[slot] = value
        for number in self.slot_readers[slot]:
            self.nets.touch(number)
        return True

    def touch_store(self, store: int) -> None:
        """The cells of a memory have changed."""
        for number in self.store_readers[store]:
            self.nets.touch(number)

    def remember(self) -> None:
        """What stands now is from here on the settled round before."""
        for now, before in zip(self.now, self.before, strict=True):
            before[0][:] = now[0]
            if self.known:
                before[1][:] = now[1]
        self.before[0][2][:] = self.bits
        self.before[0][3][:] = self.certain
        self.masks_before[:] = self.nets.final
        for cells in self.cells:
            if cells.undo or cells.lost != cells.was_lost:
                cells.begin_round()
