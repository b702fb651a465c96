"""Lapwing with a serial port in the place of its spare port, and its lamps and keys on a panel of their own."""

from __future__ import annotations

from pathlib import Path

HERE = Path(__file__).parent
CHANGES = (
    (
        '    m.chip("377", label="spare", CLK=clock, G_n=choose.Y1_1, D=ports, Q=spare)\n',
        '    write_n = m.gate("or", choose.Y1_1, clock)\n'
        '    select_n = m.gate("and", choose.Y1_1, choose.Y2_1)\n'
        '    m.serial_port("line", D=ports, A0=held[7][0], CS_n=select_n, RD_n=choose.Y2_1, WR_n=write_n)\n',
    ),
    ('    m.chip("541", label="spare_shown", A=spare, Y=ports, G1_n=choose.Y2_1, G2_n=LOW)\n', ""),
    ('    lamps, spare = m.bus("lamps", 8), m.bus("spare", 8)\n', '    lamps = m.bus("lamps", 8)\n'),
    ('    keys = m.switches("keys", 8, closed=HIGH)\n', '    keys = m.bus("keys", 8)\n'),
    (
        '    m.lamps(lamps, colour="green")\n',
        '    m.panel("panel", switches={"keys": keys}, lamps={"lamps": lamps})\n',
    ),
)


def write_machine(folder: Path) -> None:
    """The machine and its program, ``terminal.asm``, into a folder. ValueError where Lapwing is not as it was."""
    lapwing = HERE.parent / "lapwing"
    text = (lapwing / "machine.py").read_text(encoding="utf-8")
    for old, new in CHANGES:
        if text.count(old) != 1:
            raise ValueError(f"machine.py of Lapwing has no line {old!r}")
        text = text.replace(old, new)
    (folder / "machine.py").write_text(text, encoding="utf-8")
    for file in (lapwing / "lapwing.micro", HERE / "terminal.asm"):
        (folder / file.name).write_text(file.read_text(encoding="utf-8"), encoding="utf-8")
