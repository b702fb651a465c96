"""All codes with their titles, gathered from the ``errors.py`` of every area when somebody asks."""

from __future__ import annotations

import re
from importlib import import_module
from pathlib import Path
from types import ModuleType

_CODE = re.compile(r"[A-Z]\d{3}")


def titles() -> dict[str, str]:
    """Code -> title, in the order of the codes. Raises ValueError where two areas claim a code."""
    found: dict[str, str] = {}
    for module in areas():
        for table in tables_of(module):
            for code, title in table.items():
                if found.setdefault(code, title) != title:
                    raise ValueError(f"{code} has two titles: {found[code]!r} and {title!r}")
    return dict(sorted(found.items()))


def areas() -> list[ModuleType]:
    """The modules that keep codes: every ``errors.py`` below this package."""
    root = Path(__file__).parent.parent
    files = sorted(path.relative_to(root) for path in root.rglob("errors.py"))
    return [import_module(".".join(("latchwork", *path.with_suffix("").parts))) for path in files]


def tables_of(module: ModuleType) -> list[dict[str, str]]:
    """The dictionaries of a module whose keys are all codes."""
    candidates = [
        value for name, value in vars(module).items() if isinstance(value, dict) and not name.startswith("__")
    ]
    return [table for table in candidates if table and all(_is_code(key) for key in table)]


def _is_code(key: object) -> bool:
    return isinstance(key, str) and _CODE.fullmatch(key) is not None


def near(code: str) -> list[str]:
    """Codes that look like one that does not exist."""
    from difflib import get_close_matches

    return get_close_matches(code.upper(), titles(), n=3, cutoff=0.5)


_PAGES = ("tools.rules", "languages.microprogram.lowering.explained")
"""Packages whose modules are pages: each has a ``CODE`` and says all about it in its docstring."""


def page(code: str) -> str:
    """The page of a code: the docstring of the module that has it as ``CODE``; "" where there is none."""
    root = Path(__file__).parent.parent
    for package in _PAGES:
        for path in sorted(root.joinpath(*package.split(".")).glob("*.py")):
            if f'\nCODE = "{code}"\n' in path.read_text(encoding="utf-8"):
                return (import_module(f"latchwork.{package}.{path.stem}").__doc__ or "").strip()
    return ""
