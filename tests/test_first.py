from latchwork.chips.gates.nand2 import entry
from latchwork.chips.registers.octal_enable import entry as register
from latchwork.logic.evaluate import evaluate, evaluate_known
from latchwork.logic.text import parsed, written


def test_first():
    drive = entry.behaviour.drives[0]
    assert evaluate(drive.value, {"A1": 1, "B1": 1}) == 0
    assert evaluate_known(drive.value, {"A1": (0, 1)}) == (1, 1)
    e = register.behaviour.registers[0].updates[0].data
    assert parsed(written(e)) is e
