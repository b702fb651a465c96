"""``latchwork disassemble [MACHINE] FILE``"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import json_option, model_of, split, unusable, words_argument
from latchwork.cli.show import show

if TYPE_CHECKING:
    from latchwork.languages.assembly.target import Place, Target


@click.command()
@words_argument("[MACHINE] FILE")
@click.option("--section", default="", metavar="NAME", help="Where the words stand; the first section if left out.")
@json_option
def command(words: tuple[str, ...], section: str, as_json: bool) -> int:
    """Turn FILE (raw binary, Intel HEX or S-record; address 0 of the section's space first) into assembly text.

    Erased bytes at the end of FILE are left out.
    """
    from latchwork.analysis.rom_contents import FILL
    from latchwork.languages.assembly.disassemble import Disassembler, as_source
    from latchwork.languages.assembly.target import target_of
    from latchwork.reports.assembly import DisassembledLine, DisassemblyReport
    from latchwork.tools.images.reader import read_image

    machine, file = split(words, "the file")
    model = model_of(machine)
    target = target_of(model)
    place = _place(target, section)
    content = read_image(Path(file)).rstrip(bytes([FILL]))
    found = Disassembler(target).run(dict(enumerate(_words(content, place.bits))), place)
    lines = tuple(DisassembledLine(each.address, each.words, each.text, each.label) for each in found)
    text = "\n".join(as_source(found, place))
    report = DisassemblyReport(model.netlist.name, file, place.name, lines, text + "\n")
    return show(report, as_json=as_json, command="disassemble", ok=True, lines=lambda console: console.print(text))


def _place(target: Target, section: str) -> Place:
    from latchwork.languages.assembly.assemble import no_space

    names = [place.name for place in target.places]
    if not names:
        raise no_space()
    if section and section not in names:
        raise unusable(f'--section: there is no section "{section}"; there are {", ".join(names)}')
    return next(place for place in target.places if place.name == (section or names[0]))


def _words(content: bytes, bits: int) -> list[int]:
    width = -(-bits // 8)
    return [int.from_bytes(content[start : start + width], "little") for start in range(0, len(content), width)]
