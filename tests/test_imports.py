"""Who imports whom: arrows run one way, tools stay apart, and help loads nothing heavy."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import latchwork

ROOT = Path(latchwork.__file__).parent
ORDER = [
    *("base", "problems", "logic", "parts", "netlist", "model", "traces", "chips", "fuses", "devices", "design"),
    *("analysis", "languages", "load", "engines", "reports", "draw", "tools", "cli", "web"),
]
FORBIDDEN_PAIRS = {("analysis", "engines"), ("load", "engines")}
HEAVY = ["lark", "llvmlite", "numpy", "bincopy", "vcd", "starlette", "rich", "msgspec", "jinja2", "bitwuzla"]


def imports() -> Iterator[tuple[str, str]]:
    """(module, module of Latchwork that it imports), late imports and those for types alone included."""
    for path in sorted(ROOT.rglob("*.py")):
        module = ".".join(("latchwork", *path.relative_to(ROOT).with_suffix("").parts)).removesuffix(".__init__")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            for imported in imported_by(node):
                if imported.split(".")[0] == "latchwork":
                    yield module, imported


def imported_by(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom) and node.module:
        assert node.level == 0, "imports are written out in full"
        return [f"{node.module}.{alias.name}" for alias in node.names]
    return []


def areas() -> Iterator[tuple[str, str, str]]:
    """(area, area that it imports, the import in words) for each import between two."""
    for module, imported in imports():
        here, there = (name.split(".")[1:2] for name in (module, imported))
        if here and there and there[0] in ORDER and here != there:
            yield here[0], there[0], f"{module} imports {imported}"


def test_the_walk_sees_the_imports() -> None:
    assert ("latchwork.problems.problem", "latchwork.base.position.Position") in set(imports())
    assert len(list(areas())) > 50


def test_every_folder_has_its_place() -> None:
    folders = {path.parent.relative_to(ROOT).parts[0] for path in ROOT.rglob("*.py") if path.parent != ROOT}
    assert folders - {"templates"} <= set(ORDER)


def test_arrows_run_one_way() -> None:
    wrong = [
        words
        for here, there, words in areas()
        if (here, there) in FORBIDDEN_PAIRS or (here in ORDER and ORDER.index(there) > ORDER.index(here))
    ]
    assert wrong == []


def test_tools_never_import_each_other() -> None:
    wrong = []
    for module, imported in imports():
        here, there = (name.split(".")[1:3] for name in (module, imported))
        if here[:1] == there[:1] == ["tools"] and len(here) == len(there) == 2 and here != there:
            wrong.append(f"{module} imports {imported}")
    assert wrong == []


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["run", "--help"], ["images", "--help"]])
def test_help_loads_nothing_heavy(arguments: list[str]) -> None:
    code = (
        "import sys\nfrom latchwork.cli.main import run\n"
        f"assert run({arguments!r}) == 0\n"
        f"print('loaded', sorted({set(HEAVY)!r} & {{name.split('.')[0] for name in sys.modules}}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "loaded []"
