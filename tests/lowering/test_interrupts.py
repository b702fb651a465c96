"""An entry takes the place of the first steps while the interrupt asks for it: by an address pin of the store, by the
decode ROMs, or by the next address. Each machine is run: the entry lights all lamps."""

from __future__ import annotations

from pathlib import Path

import pytest
from turnstone import MACHINE, MICRO, lowered

from latchwork.engines.oracle import Oracle
from latchwork.load.machine import read_machine
from latchwork.load.model import load_model, with_program
from latchwork.model import Model

SMALL = Path(__file__).parent.parent / "machines"
BUTTON = '\nasked = m.button("asked", closed=HIGH)\n'
ASKS = ("opcode=opcode,", "opcode=opcode, interrupt=asked,")
Changes = list[tuple[str, str]]

LONG = "    nothing\n" * 4
START = f"entry interrupt\n    meaning nothing\n{LONG}    ones_show, lamps_take, home\n\nother opcodes"
BY_DECODER: Changes = [
    ("other opcodes", START), ASKS,
    ("A=[*opcode, LOW, LOW, LOW], D=entrance[0:8]", "A=[*opcode, LOW, asked, LOW], D=entrance[0:8]"),
    ("A=[LOW, *opcode[::-1], LOW, LOW]", "A=[asked, *opcode[::-1], LOW, LOW]"),
]  # fmt: skip
BY_ADDRESS: Changes = [
    ("other opcodes", START), ASKS, ("A=[*micro, carry, zero, LOW]", "A=[*micro, carry, zero, asked]"),
    ("A=[carry, *micro, LOW, zero]", "A=[carry, *micro, asked, zero]"),
]  # fmt: skip
# On Whimbrel the entry takes what a data bus shows that is pulled low and that nothing drives.
BY_NEXT: Changes = [
    ("other opcodes", "entry interrupt\n    meaning nothing\n    lamps_take\n    nothing\n\nother opcodes"), ASKS,
    ("C1=[next_step[0], carry, zero_n, HIGH]", "C1=[next_step[0], carry, zero_n, asked]"),
]  # fmt: skip


def model(name: str, changes: Changes, folder: Path) -> Model:
    for file in ("machine.py", f"{name}.micro"):
        text = (SMALL / name / file).read_text()
        if file == "machine.py":
            text = text.replace('\nwith m.board("clock")', BUTTON + '\nwith m.board("clock")', 1)
        for old, new in changes:
            text = text.replace(old, new, 1)
        (folder / file).write_text(text)
    program = folder / "wait.asm"
    program.write_text("        .section rom\nstart:  load #3\n        output\n.here:  jump .here\n")
    return with_program(load_model(folder), program)


def lamps_after_asking(model: Model) -> tuple[int | None, int | None]:
    """What the lamps show before the button is pressed, and some clocks after."""
    oracle = Oracle(model.netlist, model.contents)
    lamps = next(port.nets for port in model.statements.ports if port.name == "lamps")
    button = next(i for i in range(len(model.netlist.chips)) if model.netlist.part_of(i).name == "button")
    oracle.run(60)
    before = oracle.read(lamps)
    oracle.set_switch(button, True)
    oracle.run(20)
    return before, oracle.read(lamps)


@pytest.mark.parametrize("changes", [BY_DECODER, BY_ADDRESS], ids=["decode ROMs", "store address"])
def test_a_start_address_machine_is_interrupted(changes: Changes, tmp_path: Path) -> None:
    machine = model("redshank", changes, tmp_path)
    assert machine.control is not None
    assert "interrupt" in {row.block for row in machine.control.rows}
    assert lamps_after_asking(machine) == (3, 0xFF)


def test_a_next_address_machine_is_interrupted(tmp_path: Path) -> None:
    machine = model("whimbrel", BY_NEXT, tmp_path)
    assert machine.control is not None
    starts = dict(machine.control.starts)
    assert starts["fetch"] == 0
    assert starts["interrupt"] == 1
    assert lamps_after_asking(machine) == (3, 0)


def test_a_machine_whose_step_counter_addresses_the_store(tmp_path: Path) -> None:
    wiring = MACHINE.replace("carry, LOW, LOW, LOW]", "carry, spare, LOW, LOW]").replace(
        "opcode=opcode,", "opcode=opcode, interrupt=spare,"
    )
    text = MICRO.replace("other opcodes", "entry interrupt\n    three_show\n    one_show, last\n\nother opcodes")
    program = lowered(tmp_path, wiring, text)
    rows = {(row.block, row.step): row for row in program.rows if row.block in ("interrupt", "fetch")}
    spare = read_machine(tmp_path).netlist.net_named["spare"]
    asked = 1 << program.address_nets.index(spare)
    for (block, _), row in rows.items():
        assert {bool(address & asked) for address in row.addresses} == {block == "interrupt"}
    assert len(rows["interrupt", 0].addresses) == len(rows["fetch", 0].addresses) == 32
