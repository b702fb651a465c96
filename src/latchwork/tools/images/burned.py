"""What the chips hold that are burned with the image files of a folder, whatever the machine's sources say by now."""

from __future__ import annotations

from pathlib import Path

from latchwork.analysis.rom_contents import kept_memory, rom_bytes
from latchwork.base.files import changed_since
from latchwork.base.position import Position
from latchwork.model import Model
from latchwork.netlist import ChipId
from latchwork.netlist.queries import chip_name
from latchwork.problems import Label, LatchworkError, Problem
from latchwork.tools.images.chips import file_name
from latchwork.tools.images.formats import FORMATS
from latchwork.tools.images.reader import read_image


def burned(model: Model, folder: Path) -> dict[ChipId, bytes]:
    """The bytes of every ROM from the files that ``latchwork images`` names after it, of any format.

    A ROM that nothing gives contents to may go without a file. Raises LatchworkError with every file that is missing,
    can't be read or has another size than its chip.
    """
    if not folder.is_dir():
        message = f'there is no folder "{folder}"'
        raise LatchworkError(Problem("I125", message, help="write the images first: `latchwork images --out FOLDER`"))
    needed = rom_bytes(model)
    found: dict[ChipId, bytes] = {}
    problems: list[Problem] = []
    for chip in range(len(model.netlist.chips)):
        if kept_memory(model.netlist, chip) is None:
            continue
        try:
            content = _content(model, chip, folder, chip in needed)
        except LatchworkError as error:
            problems += error.problems
        else:
            found |= {chip: content} if content is not None else {}
    if problems:
        raise LatchworkError(problems)
    return found


def _content(model: Model, chip: ChipId, folder: Path, needed: bool) -> bytes | None:
    base = file_name(model.netlist, chip)
    files = [folder / f"{base}.{end}" for end in FORMATS if (folder / f"{base}.{end}").is_file()]
    if not files:
        if needed:
            raise _missing(model, chip, folder, base)
        return None
    path, content = _the_one(model, chip, files)
    memory = kept_memory(model.netlist, chip)
    assert memory is not None
    size = (1 << memory.address_width) * -(-memory.width // 8)
    if len(content) != size:
        message = f"the file holds {len(content)} bytes, {chip_name(model.netlist, chip)} has {size}"
        raise LatchworkError(Problem("I120", message, (Label(Position(str(path))),), "write the images again"))
    return content


def _missing(model: Model, chip: ChipId, folder: Path, base: str) -> LatchworkError:
    message = f"no image of {chip_name(model.netlist, chip)} is in {folder}"
    ends = ", ".join(f".{end}" for end in FORMATS)
    hint = f"it is called {base} and ends with one of {ends}; `latchwork images` writes it"
    return LatchworkError(Problem("I125", message, (Label(Position(str(folder))),), hint))


def _the_one(model: Model, chip: ChipId, files: list[Path]) -> tuple[Path, bytes]:
    """The file of a chip: where those of several formats differ, the one that was changed since it was written."""
    contents = {path: read_image(path) for path in files}
    if len(set(contents.values())) == 1:
        return files[0], contents[files[0]]
    changed = [path for path in files if changed_since(path)]
    if len({contents[path] for path in changed}) == 1:
        return changed[0], contents[changed[0]]
    labels = tuple(Label(Position(str(path))) for path in files)
    message = f"{chip_name(model.netlist, chip)} has files that hold different bytes"
    raise LatchworkError(Problem("I126", message, labels, "keep the one that the chip was burned with"))
