"""What memories hold when power comes, as bytes: a plane for each byte of a word, the lowest first."""

from __future__ import annotations

from collections.abc import Mapping

from latchwork.engines.compiled.lanes.block_graph import StoreKey
from latchwork.engines.compiled.lanes.differences import Nets
from latchwork.engines.compiled.lanes.instances import Instance
from latchwork.engines.seeding import seeded
from latchwork.netlist import ChipId
from latchwork.parts import Memory, Part


class Images:
    """Worked out once for all blocks of a machine."""

    def __init__(self, nets: Nets, contents: Mapping[ChipId, bytes], seed: int) -> None:
        self._nets = nets
        self._contents = contents
        self._seed = seed
        self._parts: dict[int, Part] = {}
        self._planes: dict[StoreKey, list[bytes]] = {}

    def know(self, instance: Instance) -> None:
        """Memories of this instance's part may be asked for."""
        self._parts[id(instance.part)] = instance.part

    def planes(self, store: StoreKey) -> list[bytes]:
        """One byte for each address, for each byte of a word."""
        if store not in self._planes:
            self._planes[store] = self._worked_out(store)
        return self._planes[store]

    def _worked_out(self, store: StoreKey) -> list[bytes]:
        chip, part, name = store
        memories = self._parts[part].behaviour.memories
        memory = next(each for each in memories if each.name == name)
        filled = next((each for each in memories if each.keeps), memories[0])
        given = self._contents.get(chip, b"") if memory is filled else b""
        step, full = -(-memory.width // 8), (1 << memory.width) - 1
        words = [given[at : at + step].ljust(step, b"\xff") for at in range(0, len(given), step)]
        words = [(int.from_bytes(word, "little") & full).to_bytes(step, "little") for word in words]
        words += self._by_chance(chip, memory, range(len(words), 1 << memory.address_width), step)
        whole = b"".join(words)
        return [whole[plane::step] for plane in range(step)]

    def _by_chance(self, chip: ChipId, memory: Memory, addresses: range, step: int) -> list[bytes]:
        """Cells that were given no contents."""
        if memory.keeps:
            return [((1 << memory.width) - 1).to_bytes(step, "little")] * len(addresses)
        key = f"{self._nets.keys[chip]}.{memory.name}"
        return [seeded(self._seed, f"{key}.{at}", memory.width).to_bytes(step, "little") for at in addresses]
