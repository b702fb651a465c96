"""A block of machines under power: its rows and memories, and what is read of a lane."""

from __future__ import annotations

import ctypes
from collections.abc import Iterable, Sequence
from typing import Any

from latchwork.engines.compiled.lanes.block_code import BlockCode
from latchwork.engines.compiled.lanes.block_graph import BlockWrite, StoreKey
from latchwork.engines.compiled.lanes.graph import Literal
from latchwork.engines.compiled.lanes.images import Images
from latchwork.engines.compiled.lanes.interpreter import State, interpreter
from latchwork.engines.compiled.lanes.native import LANES
from latchwork.engines.compiled.lanes.operations import ACTIVE, LEFT, ONES, ROW
from latchwork.engines.protocol import Value
from latchwork.netlist import ChipId, NetId

NEVER = (1 << 64) - 1
FULL = (1 << LANES) - 1
CODES = (State.ROUND, State.COMMIT, State.PRIME, State.LOOK)


def table(numbers: Sequence[int]) -> Any:
    """Numbers in memory, of 64 bits."""
    return (ctypes.c_uint64 * max(1, len(numbers)))(*numbers)


class Space:
    """Bytes in memory, aligned like rows, 0 at first."""

    def __init__(self, size: int) -> None:
        self._raw = (ctypes.c_uint8 * (size + ROW))()
        self.address = -(-ctypes.addressof(self._raw) // ROW) * ROW


class Memories:
    """The cells of a block: ``own`` memories have a byte for each lane at each address."""

    def __init__(self, images: Images, own: set[StoreKey]) -> None:
        self._images = images
        self.own = own
        self._bases: dict[StoreKey, list[tuple[int, Any]]] = {}
        self._versions: dict[StoreKey, Any] = {}

    def base(self, store: StoreKey, byte: int) -> int:
        """Where a byte of the words of a memory lies."""
        if store not in self._bases:
            self._bases[store] = [self._filled(store, plane) for plane in self._images.planes(store)]
        return self._bases[store][byte][0]

    def _filled(self, store: StoreKey, plane: bytes) -> tuple[int, Any]:
        image = (ctypes.c_uint8 * len(plane)).from_buffer_copy(plane)
        if store not in self.own:
            return ctypes.addressof(image), image
        space = Space(len(plane) * LANES)
        interpreter()["spread"](space.address, ctypes.addressof(image), len(plane))
        return space.address, space

    def version(self, store: StoreKey) -> int:
        """Where the number lies that counts its changes."""
        if store not in self._versions:
            self._versions[store] = table([1])
        return ctypes.addressof(self._versions[store])

    def cell(self, store: StoreKey, address: int, lane: int) -> int:
        """A word in one lane."""
        planes = len(self._images.planes(store))
        at = address * LANES + lane if store in self.own else address
        cells = [ctypes.c_uint8.from_address(self.base(store, byte) + at).value for byte in range(planes)]
        return int.from_bytes(bytes(cells), "little")


class Block:
    """``lanes``: how many there are, the first without a fault. ``bound``: of rounds in a tick."""

    def __init__(self, code: BlockCode, memories: Memories, lanes: int, bound: int) -> None:
        self.lanes = lanes
        self._code = code
        self._memories = memories
        self._rows = Space(code.scheduler.rows.count * ROW)
        self._first = table([NEVER] * LANES)
        self._seen = Space(ROW)
        self._kept: list[Any] = []  # what must stay where it is as long as the code runs
        self._state = table([0] * len(State))
        self._state[State.ROWS] = self._rows.address
        self._state[State.BOUND] = bound
        self._state[State.FIRST] = ctypes.addressof(self._first)
        self._state[State.SEEN] = self._seen.address
        for name, words in zip(CODES, code.codes, strict=True):
            self._put(name, (ctypes.c_uint32 * len(words))(*words))
        self._describe()
        self._fill(ONES, FULL)
        self._fill(ACTIVE, (1 << lanes) - 1)
        for row, mask in code.scheduler.rows.masks.items():
            self._fill(row, mask)

    def _put(self, name: State, values: Any) -> None:
        self._kept.append(values)
        self._state[name] = ctypes.addressof(values)

    # Descriptors, see memory_code

    def _describe(self) -> None:
        scheduler = self._code.scheduler
        self._addresses = {bits: self._address(bits) for bits in scheduler.addresses}
        self._table_of(State.ADDRESSES, self._addresses.values())
        self._table_of(State.READS, [self._read(*each) for each in scheduler.reads])
        self._table_of(State.WRITES, [self._write(*each) for each in self._code.writes])

    def _table_of(self, name: State, tables: Iterable[Any]) -> None:
        found = list(tables)
        self._kept.append(found)
        self._put(name, table([ctypes.addressof(each) for each in found]))

    def _address(self, bits: tuple[Literal, ...]) -> Any:
        places = [self._code.place(bit) for bit in bits]
        numbers, copies = Space(4 * LANES), Space(ROW * max(1, len(bits)))
        self._kept += (numbers, copies)
        resting = sum((place & 1) << bit for bit, place in enumerate(places))
        (ctypes.c_uint32 * LANES).from_address(numbers.address)[:] = [resting] * LANES
        return table([len(bits), numbers.address, 1, copies.address, *places])

    def _read(self, number: int, byte: int) -> Any:
        read = self._code.graph.graph.reads[number]
        store: StoreKey = read.memory  # type: ignore[assignment]
        rows = self._code.scheduler.rows_of(number, byte)
        return table([
            ctypes.addressof(self._addresses[read.address]), len(rows), self._memories.base(store, byte),
            int(store in self._memories.own), self._memories.version(store), 0, 0, *(row * ROW for row in rows),
        ])  # fmt: skip

    def _write(self, write: BlockWrite, byte: int) -> Any:
        data = [self._code.place(bit) for bit in write.data[8 * byte : 8 * byte + 8]]
        address = ctypes.addressof(self._addresses[write.address])
        memory, version = self._memories.base(write.store, byte), self._memories.version(write.store)
        return table([address, len(data), memory, version, self._code.place(write.strobe), *data])

    # Rows

    def _fill(self, row: int, lanes: int) -> None:
        ctypes.memmove(self._rows.address + row * ROW, lanes.to_bytes(ROW, "little"), ROW)

    def _row(self, place: int) -> int:
        lanes = int.from_bytes(ctypes.string_at(self._rows.address + (place & ~1), ROW), "little")
        return lanes ^ FULL if place & 1 else lanes

    def set_leaf(self, leaf: Literal, level: int) -> None:
        """A leaf of the graph in all lanes."""
        self._fill(self._code.place(leaf) // ROW, FULL if level else 0)

    def places(self, chip: ChipId, name: str) -> list[int]:
        """Where in the rows a timer of a chip lies."""
        graph = self._code.graph
        return [
            self._code.place(leaf) for slot, leaf in graph.of_slot.items()
            if slot.name == name and graph.chips[slot.instance].chip == chip
        ]  # fmt: skip

    # Running

    def prime(self) -> None:
        """Settle for the first time, without edges."""
        interpreter()["prime"](ctypes.addressof(self._state))

    def run(self, ticks: int, starts: Any, events: Any) -> None:
        """Ticks with their events: ``events`` are places of rows and words for them."""
        self._state[State.STARTS], self._state[State.EVENTS] = ctypes.addressof(starts), ctypes.addressof(events)
        interpreter()["run"](ctypes.addressof(self._state), ticks)

    def drop_what_differs(self) -> None:
        """From here on a lane goes no further once it is seen to differ."""
        self._state[State.DROP] = 1

    # Looking

    @property
    def left(self) -> int:
        """Lanes that only an engine of their own can go on with."""
        return self._row(LEFT * ROW)

    @property
    def is_over(self) -> bool:
        """Whether no lane with a fault goes on."""
        return not self._row(ACTIVE * ROW) >> 1

    def first_seen(self, lane: int) -> int | None:
        """The tick in which a lane was first seen to differ."""
        tick = self._first[lane]
        return None if tick == NEVER else int(tick)

    def value(self, net: NetId, lane: int) -> Value:
        """What a net carries. KeyError where it was not asked for when the block was made."""
        level, has = (self._row(self._code.place(each)) >> lane & 1 for each in self._code.levels[net])
        return (Value.LOW, Value.HIGH)[level] if has else Value.NOTHING

    def state(self, chip: ChipId, part: int, name: str, lane: int) -> int:
        """A register, latch or timer; ``part``: the identity of the chip's part in that lane."""
        instance = next(
            number for number, each in enumerate(self._code.graph.chips) if (each.chip, id(each.part)) == (chip, part)
        )
        found = 0
        for slot, leaf in self._code.graph.of_slot.items():
            if slot[:2] == (instance, name):
                found |= (self._row(self._code.place(leaf)) >> lane & 1) << slot.bit
        return found

    def cell(self, store: StoreKey, address: int, lane: int) -> int:
        """A word of a memory."""
        return self._memories.cell(store, address, lane)
