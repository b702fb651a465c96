"""A sheet of labels to stick on the chips: as text, and as a page to print."""

from __future__ import annotations

from importlib.resources import files

from latchwork.reports.images import ChipImage, FusedChip, ImagesReport


def label_text(report: ImagesReport) -> bytes:
    """One label after the other, to be printed with fixed-width letters."""
    return "\n".join(_text(report.machine, chip) for chip in _all(report)).encode()


def _all(report: ImagesReport) -> list[ChipImage | FusedChip]:
    return [*report.chips, *report.devices]


def _text(machine: str, chip: ChipImage | FusedChip) -> str:
    lines = [f"{chip.reference}  {chip.part}", *label_lines(machine, chip)]
    width = max(len(line) for line in lines)
    edge = "+" + "-" * (width + 2) + "+"
    return "\n".join([edge, *(f"| {line.ljust(width)} |" for line in lines), edge]) + "\n"


def label_lines(machine: str, chip: ChipImage | FusedChip) -> list[str]:
    """What a label says below reference and part."""
    title = f"{machine}: {chip.label or chip.file}"
    if isinstance(chip, FusedChip):
        return [title, f"{chip.fuses} fuses", f"checksum {chip.checksum}"]
    return [
        title,
        chip.holds,
        f"{chip.size} bytes, fill {chip.fill:02X}",
        f"CRC-32 {chip.crc32:08X}",
    ]


def label_page(report: ImagesReport) -> bytes:
    """A page of HTML that needs no other file."""
    from jinja2 import Environment

    template = files("latchwork.tools.images").joinpath("labels.html.j2").read_text(encoding="utf-8")
    environment = Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True)
    labels = [(chip, label_lines(report.machine, chip)) for chip in _all(report)]
    return environment.from_string(template).render(machine=report.machine, labels=labels).encode() + b"\n"
