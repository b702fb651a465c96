"""From machines with faults to a block of lanes under power."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from latchwork.engines.compiled.lanes.block import Block, Memories
from latchwork.engines.compiled.lanes.block_code import Compiler
from latchwork.engines.compiled.lanes.block_graph import BlockGraph, StoreKey, block_graph
from latchwork.engines.compiled.lanes.differences import Difference, Nets
from latchwork.engines.compiled.lanes.graph import Graph
from latchwork.engines.compiled.lanes.images import Images
from latchwork.engines.compiled.lanes.levels import Level, Levels
from latchwork.engines.compiled.lanes.native import LANES
from latchwork.engines.seeding import seeded
from latchwork.netlist import ChipId, NetId
from latchwork.parts import Part

OWN_LIMIT = 1 << 27
"""Bytes that the memories of a block may take where each lane has cells of its own."""


class Builder:
    """Makes blocks of one machine. ``watch``: nets that lanes are compared by; ``shown``: nets that may be asked for;
    ``drop``: a lane goes no further once it is seen to differ."""

    def __init__(
        self, nets: Nets, contents: Mapping[ChipId, bytes], seed: int, watch: Sequence[NetId], shown: Sequence[NetId]
    ) -> None:
        self.nets = nets
        self.watch = watch
        self._shown = shown
        self._seed = seed
        self._images = Images(nets, contents, seed)

    def block(self, differences: Sequence[Difference], *, drop: bool) -> Block:
        """A block whose first lane has no fault, settled for the first time. NotCompilable."""
        lanes = [self.nets.none, *differences]
        built = block_graph(self.nets, lanes, LANES, self._seed)
        graph, levels = built
        for chip in graph.chips:
            self._images.know(chip)
        own = self._own(graph)
        looks = [self._looked_at(graph.graph, levels, lanes, net) for net in self.watch]
        shown = {lane.group.get(net, net) for net in self._shown for lane in lanes}
        code = Compiler(built, own.__contains__, looks, shown).compiled()
        block = Block(code, Memories(self._images, own), len(lanes), self._bound(lanes))
        self._set_power_up(block, graph)
        if drop:
            block.drop_what_differs()
        block.prime()
        return block

    def moved(self, net: NetId, difference: Difference) -> NetId:
        """Where a machine has a net: where it was, with what closed switches join it to, or, if a bridge took all its
        pins along, on the net that it was joined to."""
        stays = difference.group.get(net, net)
        before, chips = self.nets.netlist.pins_on[net], difference.chips
        if not before or not all(chip in chips for chip, _ in before):
            return stays
        if any(chips[chip].part is not self.nets.base[chip].part for chip, _ in before):
            return stays
        now = {chips[chip].nets[pin] for chip, pin in before}
        return now.pop() if len(now) == 1 and max(now) < len(self.nets.netlist.nets) else stays

    def _own(self, graph: BlockGraph) -> set[StoreKey]:
        """The memories that are written, as far as there is room for cells of each lane."""
        found: set[StoreKey] = set()
        taken = 0
        for store in dict.fromkeys(write.store for write in graph.writes):
            taken += sum(map(len, self._images.planes(store))) * LANES
            if taken <= OWN_LIMIT:
                found.add(store)
        return found

    def _looked_at(self, graph: Graph, levels: Levels, lanes: Sequence[Difference], net: NetId) -> Level:
        """A net; in the lanes of a bridge that took it along the one that it was joined to."""
        usual = self.moved(net, self.nets.none)
        level = levels.net(usual)
        elsewhere: dict[NetId, int] = {}
        for lane, difference in enumerate(lanes):
            now = self.moved(net, difference)
            if now != usual:
                elsewhere[now] = elsewhere.get(now, 0) | 1 << lane
        for other, where in elsewhere.items():
            mask, there = graph.mask(where), levels.net(other)
            level = graph.choose(mask, there[0], level[0]), graph.choose(mask, there[1], level[1])
        return level

    def _bound(self, lanes: Sequence[Difference]) -> int:
        """Rounds after which a tick does not come to rest; where lanes have different ones, the least."""
        base = self.nets.base
        whole = sum(_elements(placed.part) for placed in base)
        more = [
            sum(_elements(placed.part) - _elements(base[chip].part) for chip, placed in lane.chips.items())
            for lane in lanes
        ]
        return 100 + 2 * (whole + min(more))

    def _set_power_up(self, block: Block, graph: BlockGraph) -> None:
        for slot, leaf in graph.of_slot.items():
            chip = graph.chips[slot.instance]
            register = next((each for each in chip.template.kept if each.name == slot.name), None)
            if register is not None:
                chance = seeded(self._seed, f"{self.nets.keys[chip.chip]}.{slot.name}", register.width)
                value = chance if register.wakes is None else register.wakes
                block.set_leaf(leaf, value >> slot.bit & 1)
        for (number, place), leaf in graph.of_keeper.items():
            chip = graph.chips[number]
            port, bit = _keepers(chip.part)[place]
            block.set_leaf(leaf, seeded(self._seed, f"{self.nets.keys[chip.chip]}.{port}.{bit}"))


def _keepers(part: Part) -> list[tuple[str, int]]:
    """Ports and bits that keepers hold."""
    return [(each.port, bit) for each in part.behaviour.keepers for bit in range(len(part.ports[each.port]))]


def _elements(part: Part) -> int:
    """What is looked at in each round."""
    behaviour = part.behaviour
    writable = sum(1 for memory in behaviour.memories if memory.writes)
    return len(behaviour.registers) + len(behaviour.latches) + writable
