"""The files of ``latchwork images``: each ROM in each format, and the label sheet."""

from __future__ import annotations

from collections.abc import Iterable

from latchwork.model import Model
from latchwork.reports.images import ImagesReport
from latchwork.tools.images.chips import roms
from latchwork.tools.images.devices import fuse_files
from latchwork.tools.images.formats import FORMATS
from latchwork.tools.images.labels import label_page, label_text


def image_files(model: Model, report: ImagesReport, formats: Iterable[str] = tuple(FORMATS)) -> dict[str, bytes]:
    """File name -> bytes. ``formats``: any of "bin", "hex", "s19"."""
    files = {
        f"{rom.name}.{end}": FORMATS[end](rom.content) for rom in roms(model) for end in FORMATS if end in set(formats)
    }
    return {**files, **fuse_files(model), "labels.txt": label_text(report), "labels.html": label_page(report)}
