"""Running machine.py: whatever stands in it, a problem with file and line, never a traceback."""

import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from latchwork.load.machine import read_machine
from latchwork.problems import LatchworkError

GOOD = 'from latchwork import Machine\nm = Machine("wren")\nclock = m.clock("1M")\nm.chip("377", CLK=clock)\n'


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def refused(text, path="."):
    """The message about a machine.py with this text."""
    Path("machine.py").write_text(text, encoding="utf-8")
    with pytest.raises(LatchworkError) as caught:
        read_machine(path)
    return str(caught.value)


def test_a_folder_or_a_file(folder):
    Path("machine.py").write_text(GOOD)
    for path in (".", folder, "machine.py", folder / "machine.py"):
        loaded = read_machine(path)
        assert [chip.reference for chip in loaded.netlist.chips] == ["X1", "U1"]
        assert Path(loaded.netlist.chips[1].position.file).resolve() == folder / "machine.py"
        assert loaded.netlist.chips[1].position.line == 4


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", 'machine.py: M102 machine.py makes no machine (write m = Machine("name") at the top level)'),
        (
            GOOD + 'n = Machine("robin")\n',
            'machine.py:2:5: M103 machine.py makes 2 machines, "wren" and "robin" '
            "(keep one in a file; give the other a folder of its own)",
        ),
        ("m = Machine(\n", "machine.py:1:12: M104 this is not Python: '(' was never closed"),
        ("if 1:\nm = 2\n", "machine.py:2:1: M104 the indentation is wrong: expected an indented block after 'if' "
         "statement on line 1"),
        ("a = 1\nm = Machin('wren')\n", "machine.py:2:5: M105 NameError: name 'Machin' is not defined"),
        (
            GOOD + "m.chip('377', CLK=clok)\n",
            "machine.py:5:19: M105 NameError: name 'clok' is not defined (did you mean \"clock\"?)",
        ),
        (
            GOOD + "m.chp('377')\n",
            "machine.py:5:1: M105 AttributeError: 'Machine' object has no attribute 'chp' (did you mean \"chip\"?)",
        ),
        (GOOD + "def f():\n    1 / 0\nf()\n", "machine.py:6:5: M105 ZeroDivisionError: division by zero"),
        (GOOD + "m.net('a', width=8)\n",
         "machine.py:5:1: M105 TypeError: Machine.net() got an unexpected keyword argument 'width'"),
        ("import sys\nsys.exit(3)\n",
         "machine.py:2:1: M106 machine.py ends the program (leave out exit(); just let it end)"),
        ("raise KeyboardInterrupt\n", "machine.py:1:1: M106 machine.py was interrupted"),
        ("def f():\n    f()\nf()\n", "machine.py:2:5: M105 a function calls itself without end"),
        ("import nowhere_to_be_found\n",
         "machine.py:1:1: M105 ModuleNotFoundError: No module named 'nowhere_to_be_found' "
         "(a module is nowhere_to_be_found.py in the machine's folder, or is installed beside Latchwork)"),
        ("a\0b", "machine.py: M107 machine.py is not Python source: source code string cannot contain null bytes"),
        (GOOD + "raise Exception\n", "machine.py:5:1: M105 Exception"),
    ],
)  # fmt: skip
def test_message(folder, text, message):
    assert refused(text) == message


def test_a_misspelt_import(folder):
    message = refused("from latchwork import Machin\n")
    assert message == (
        "machine.py:1:1: M105 ImportError: cannot import name 'Machin' from 'latchwork' (did you mean \"Machine\"?)"
    )


def test_text_in_no_known_coding(folder):
    Path("machine.py").write_bytes(b"name = '\xff'\n")
    with pytest.raises(LatchworkError, match=r"^machine.py(:1)?(:\d+)?: M10[47] "):
        read_machine(".")


@pytest.mark.parametrize(
    ("path", "message"),
    [
        ("nowhere", 'nowhere: M101 there is no "nowhere" (name a folder with a machine.py, or such a file)'),
        (".", '.: M101 the folder "." has no machine.py '
              '(name a folder with a machine.py, or begin one with "latchwork new NAME")'),
    ],
)  # fmt: skip
def test_no_machine_there(folder, path, message):
    with pytest.raises(LatchworkError) as caught:
        read_machine(path)
    assert str(caught.value) == message


def test_modules_of_the_folder_are_imported_and_forgotten(folder):
    for name, label in (("one", "hold"), ("two", "kept")):
        Path(name).mkdir()
        Path(name, "registers.py").write_text(f"def register(m):\n    m.chip('377', label='{label}')\n")
        Path(name, "machine.py").write_text("from latchwork import Machine\nfrom registers import register\n"
                                            "m = Machine('wren')\nregister(m)\n")  # fmt: skip
    before, path = set(sys.modules), list(sys.path)
    loaded = [read_machine(name) for name in ("one", "two")]
    assert [each.netlist.chips[0].label for each in loaded] == ["hold", "kept"]
    assert loaded[0].netlist.chips[0].position.file == str(Path("one", "registers.py"))
    assert loaded[0].sources == (str(Path("one", "machine.py")), str(Path("one", "registers.py")))
    assert "registers" not in set(sys.modules) - before
    assert sys.path == path
    assert not list(folder.rglob("__pycache__"))


def test_an_error_in_a_helper_module_names_its_line(folder):
    Path("registers.py").write_text("def register(m):\n    return m.missing\n")
    message = refused(GOOD + "import registers\nregisters.register(m)\n")
    assert message == "registers.py:2:12: M105 AttributeError: 'Machine' object has no attribute 'missing'"


def test_a_helper_module_that_is_not_python(folder):
    Path("registers.py").write_text("def register(m:\n")
    assert refused("import registers\n") == "registers.py:1:13: M104 this is not Python: '(' was never closed"


def test_what_machine_py_prints_leaves_standard_output_alone(folder, capsys):
    Path("machine.py").write_text(GOOD + "print('hello')\n")
    read_machine(".")
    printed = capsys.readouterr()
    assert (printed.out, printed.err) == ("", "hello\n")


def test_contents_of_tables_come_along(folder):
    Path("machine.py").write_text(GOOD + "a, y = m.bus('a', 11), m.bus('y', 8)\nrom = m.chip('28C16', A=a, D=y)\n"
                                  "m.table(rom, lambda a: a & 255, inputs={'a': a}, outputs={'y': y})\n")  # fmt: skip
    loaded = read_machine(".")
    assert loaded.contents == {2: bytes(range(256)) * 8}


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(0, len(GOOD)), st.integers(0, 12), st.text("mM.=()[]\"',:\n 1xcQ\\", max_size=6))
def test_a_machine_with_a_spoilt_spot_gives_a_machine_or_a_problem(folder, at, length, instead):
    Path("machine.py").write_text(GOOD[:at] + instead + GOOD[at + length :])
    try:
        read_machine(".")
    except LatchworkError as error:
        codes = {problem.code[0] for problem in error.problems}
    else:
        codes = {"M"}
    assert codes == {"M"}
