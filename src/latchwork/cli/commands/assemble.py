"""``latchwork assemble [MACHINE] PROGRAM``"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import force_option, json_option, model_of, named, split, words_argument
from latchwork.cli.show import console, show

if TYPE_CHECKING:
    from latchwork.languages.assembly.program import Program
    from latchwork.reports.assembly import AssemblyReport


@click.command()
@words_argument("[MACHINE] PROGRAM")
@click.option("--symbols", is_flag=True, help="Show the symbol table instead of the listing.")
@click.option("--out", metavar="FOLDER", type=named, help="Write listing, symbols and the words of each space there.")
@force_option
@json_option
def command(words: tuple[str, ...], symbols: bool, out: str | None, force: bool, as_json: bool) -> int:
    """Assemble PROGRAM and show its listing: addresses, words, clocks and source side by side.

    With --out the files are PROGRAM.listing, PROGRAM.symbols and, for each address space, PROGRAM-SPACE.bin from
    address 0 on, as they are stored.
    """
    from latchwork.languages.assembly.assemble import assemble_file
    from latchwork.languages.assembly.target import target_of
    from latchwork.load.program import program_file

    machine, source = split(words, "the program")
    model = model_of(machine)
    program = assemble_file(program_file(model, Path(source)), target_of(model))
    _warn(program)
    report = _report(model.netlist.name, program)
    if out:
        report = _written(report, program, Path(out), force)
    text = "\n".join(_said(report)) if out else (report.symbol_table if symbols else report.listing).rstrip("\n")
    return show(report, as_json=as_json, command="assemble", ok=True, lines=lambda console: console.print(text))


def _warn(program: Program) -> None:
    from latchwork.problems.terminal import print_problems

    if program.warnings:
        print_problems(console(stderr=True), program.warnings)


def _report(machine: str, program: Program) -> AssemblyReport:
    from latchwork.languages.assembly.listing import listing, symbol_table
    from latchwork.reports.assembly import AssembledSymbol, AssemblyReport

    symbols = tuple(AssembledSymbol(each.name, each.value, each.space) for each in program.symbols)
    words = {space: len(filled) for space, filled in program.stored.items()}
    return AssemblyReport(machine, program.source, words, symbols, listing(program), symbol_table(program))


def _written(report: AssemblyReport, program: Program, folder: Path, force: bool) -> AssemblyReport:
    from latchwork.cli.write import write

    stem = Path(program.source).stem
    files = {f"{stem}.listing": report.listing.encode(), f"{stem}.symbols": report.symbol_table.encode()}
    for space, words in program.stored.items():
        if words:
            files[f"{stem}-{space}.bin"] = _raw(words, program.bits[space])
    write(folder, files, force)
    return replace(report, folder=str(folder), files=tuple(files))


def _raw(words: Mapping[int, int], bits: int) -> bytes:
    """The words from address 0 on; those between are erased. A wide word has its lowest byte first."""
    width = -(-bits // 8)
    erased = (1 << 8 * width) - 1
    return b"".join(words.get(address, erased).to_bytes(width, "little") for address in range(max(words) + 1))


def _said(report: AssemblyReport) -> list[str]:
    filled = ", ".join(f"{count} words in {space}" for space, count in report.words.items() if count)
    return [f"{report.program}: {filled or 'no words'}", f"{len(report.files)} files in {report.folder}"]
