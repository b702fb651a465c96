"""Chips that hold the same bytes: burned with one image, or copied from one to the other when the machine starts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from latchwork.design.draft import Draft, DraftChip
from latchwork.design.mistakes import kind_of, listed, mistake
from latchwork.design.place import here
from latchwork.design.statements import Stated, claim, memories_given
from latchwork.design.values import number_of
from latchwork.model import Copied, SharedImage


class Way(NamedTuple):
    """What is written about a copy besides its chips."""

    start: object
    simulated: object


def share_image(draft: Draft, stated: Stated, given: Sequence[object]) -> None:
    """State that ROMs are burned with one image."""
    chips = _chips(draft, given, "the chips of share_image")
    if len(set(chips)) < 2:
        message = "share_image needs two different chips or more"
        raise mistake("M023", message, help="write m.share_image(rom_a, rom_b)")
    found = [draft.chips[chip] for chip in chips]
    for chip in found:
        if not _keeps(chip):
            raise mistake("M023", f"{chip.described} is not burned: it forgets without power", help="share ROMs")
        if _shape(chip) != _shape(found[0]):
            message = f"{found[0].described} and {chip.described} hold {_size(found[0])} and {_size(chip)} words"
            raise mistake("M023", f"{message}; one image fits both only if they are alike")
        claim(stated, f"the image of {chip.described}", "is shared")
    stated.shared.append(SharedImage(chips, here()))


def copied(draft: Draft, stated: Stated, source: object, target: object, way: Way) -> None:
    """State that hardware fills memories from ROMs."""
    sources = _chips(draft, source, "the source of a copy")
    targets = _chips(draft, target, "the target of a copy")
    start = number_of(way.start, "the start of a copy")
    if not isinstance(way.simulated, bool):
        raise mistake("M007", f"simulated is True or False, not {kind_of(way.simulated)}")
    _refuse_mixed(draft, sources, targets)
    _refuse_short(draft, sources, targets, start)
    for chip in targets:
        claim(stated, f"what {draft.chips[chip].described} is filled from", "is stated")
    stated.copied.append(Copied(sources, targets, start, way.simulated, here()))


def _chips(draft: Draft, given: object, what: str) -> tuple[int, ...]:
    chips = memories_given(draft, given, what)
    if not chips:
        raise mistake("M024", f"{what} names no chip")
    return chips


def _refuse_mixed(draft: Draft, sources: tuple[int, ...], targets: tuple[int, ...]) -> None:
    for chip in (draft.chips[source] for source in sources):
        if not _keeps(chip):
            raise mistake("M024", f"{chip.described} forgets without power and can't be the source of a copy")
    for chip in (draft.chips[target] for target in targets):
        if _keeps(chip):
            message = f"{chip.described} keeps its bytes without power; only RAM is filled at the start"
            raise mistake("M024", message, help="m.share_image gives two ROMs one image")
    widths = sorted({draft.chips[chip].part.behaviour.memories[0].width for chip in (*sources, *targets)})
    if len(widths) > 1:
        raise mistake("M024", f"the chips of a copy have words of {listed(map(str, widths))} bits; one width is needed")


def _refuse_short(draft: Draft, sources: tuple[int, ...], targets: tuple[int, ...], start: int) -> None:
    there = sum(_size(draft.chips[chip]) for chip in sources) - start
    needed = sum(_size(draft.chips[chip]) for chip in targets)
    if there < needed:
        names = listed(draft.chips[chip].described for chip in targets)
        holds = f"{max(there, 0)} from {start} on" if start else f"{there}"
        message = f"{names} {'take' if len(targets) > 1 else 'takes'} {needed} words, and the source has {holds}"
        raise mistake("M024", message, help="name further source chips, or a smaller start")


def _keeps(chip: DraftChip) -> bool:
    return chip.part.behaviour.memories[0].keeps


def _shape(chip: DraftChip) -> tuple[int, int]:
    memory = chip.part.behaviour.memories[0]
    return memory.address_width, memory.width


def _size(chip: DraftChip) -> int:
    return 1 << chip.part.behaviour.memories[0].address_width
