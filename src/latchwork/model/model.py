"""Model = netlist + statements + control program + ROM contents + sources."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from latchwork.model.control import ControlProgram
from latchwork.model.statements import NOTHING_STATED, Statements
from latchwork.netlist import ChipId, Netlist


@dataclass(frozen=True)
class Model:
    """Everything known about a machine. ``contents``: what each ROM chip holds, byte by byte in its own pin order
    (control store, decode and table ROMs, loaded images; programs are added by ``with_contents``)."""

    folder: Path
    netlist: Netlist
    statements: Statements = NOTHING_STATED
    control: ControlProgram | None = None
    contents: dict[ChipId, bytes] = field(default_factory=dict)
    sources: tuple[str, ...] = ()

    def with_contents(self, more: dict[ChipId, bytes]) -> Model:
        """The same machine with other bytes in some ROMs."""
        return Model(self.folder, self.netlist, self.statements, self.control, {**self.contents, **more}, self.sources)
