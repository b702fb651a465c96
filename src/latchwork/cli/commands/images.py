"""``latchwork images [MACHINE]``"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import force_option, json_option, machine_argument, model_of, named, program_option, unusable
from latchwork.cli.show import show, table

if TYPE_CHECKING:
    from rich.console import Console

    from latchwork.model import Model
    from latchwork.reports.images import ChipImage, FusedChip, ImagesReport


@click.command()
@machine_argument
@program_option
@click.option("--out", metavar="FOLDER", type=named, help="Where the files go; MACHINE/images if left out.")
@click.option("--format", "formats", type=click.Choice(["bin", "hex", "s19"]), multiple=True, help="Only these.")
@click.option("--since", metavar="FOLDER", type=named, help="Only show which chips differ from the files there.")
@force_option
@json_option
def command(
    *,
    machine: str,
    program: str | None,
    out: str | None,
    formats: tuple[str, ...],
    since: str | None,
    force: bool,
    as_json: bool,
) -> int:
    """Write the image of every ROM as raw binary, Intel HEX and S-record, with a label sheet; and the fuse file of
    every programmable device.

    The model is saved beside them: instructions that do not change keep their micro-addresses next time. With --since
    nothing is written; exit 1 says that some chip must be burned again.
    """
    from latchwork.tools.images.report import report

    before = _folder(since)
    model = model_of(machine, program, burned=before or (Path(out) if out else None))
    found = report(model, before)
    if since is None:
        found = _written(model, found, Path(out) if out else model.folder / "images", formats, force)
    burns = [*(chip.burn for chip in found.chips), *(device.burn for device in found.devices)]
    good = all(burn in ("", "keep") for burn in burns)
    hint = " (--program puts a program in)" if program is None and model.statements.spaces else ""
    return show(found, as_json=as_json, command="images", ok=good, lines=lambda console: _lines(console, found, hint))


def _folder(since: str | None) -> Path | None:
    if since is not None and not Path(since).is_dir():
        raise unusable(f'--since: "{since}" is no folder')
    return Path(since) if since is not None else None


def _written(model: Model, report: ImagesReport, out: Path, formats: tuple[str, ...], force: bool) -> ImagesReport:
    from latchwork.cli.write import write
    from latchwork.load.burned import SAVED
    from latchwork.load.saved import saved
    from latchwork.tools.images.formats import FORMATS
    from latchwork.tools.images.written import image_files

    files = image_files(model, report, formats or tuple(FORMATS))
    files[f"{model.netlist.name}{SAVED}"] = saved(model)
    write(out, files, force)
    return replace(report, folder=str(out), files=tuple(files))


def _lines(console: Console, report: ImagesReport, hint: str) -> None:
    if report.chips:
        _roms(console, report)
    if report.devices:
        _devices(console, report)
    if report.empty:
        console.print(f"without contents: {', '.join(report.empty)}{hint}")
    if report.folder:
        console.print(f"{len(report.files)} files in {report.folder}, the labels in labels.html")


def _roms(console: Console, report: ImagesReport) -> None:
    heads = ["chip", "part", "holds", "board", "bytes", "fill", "CRC-32", *(["burn"] if report.since else [])]
    for line in table(heads, [_row(chip, bool(report.since)) for chip in report.chips], right=(4,)):
        console.print(line)


def _devices(console: Console, report: ImagesReport) -> None:
    heads = ["device", "part", "board", "fuses", "checksum", *(["burn"] if report.since else [])]
    rows = [
        [each.reference, each.part, each.board, each.fuses, each.checksum, *([_burn(each)] if report.since else [])]
        for each in report.devices
    ]
    for line in table(heads, rows, right=(3,)):
        console.print(line)


def _row(chip: ChipImage, compared: bool) -> list[object]:
    row: list[object] = [chip.reference, chip.part, chip.holds, chip.board, chip.size]
    row += [f"{chip.fill:02X}", f"{chip.crc32:08X}"]
    return [*row, _burn(chip)] if compared else row


def _burn(chip: ChipImage | FusedChip) -> str:
    if chip.burn == "again":
        unit = "fuse" if hasattr(chip, "checksum") else "byte"
        return f"again, 1 {unit} differs" if chip.differing == 1 else f"again, {chip.differing} {unit}s differ"
    return {"new": "new, no file there", "keep": "keep"}[chip.burn]
