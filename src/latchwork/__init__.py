"""Latchwork: one description of a computer of logic chips, and everything that follows from it.

``Machine`` and its helpers are what a ``machine.py`` is written with; ``load`` opens a machine folder. Both are
imported on first use, so that ``latchwork --help`` stays quick.
"""

from __future__ import annotations

import sys
from types import ModuleType
from typing import Any

__version__ = "0.1.0"

_HOMES = {
    "Machine": "latchwork.design",
    "HIGH": "latchwork.design",
    "LOW": "latchwork.design",
    "OPEN": "latchwork.design",
    "pull_up": "latchwork.design",
    "pull_down": "latchwork.design",
    "keeper": "latchwork.design",
    "load": "latchwork.tools.run",
}

__all__ = ["HIGH", "LOW", "OPEN", "Machine", "keeper", "load", "pull_down", "pull_up"]


class _Package(ModuleType):
    """Python sets a package's attribute when a folder in it is imported: the folder ``load`` would then hide the
    function ``load``. The function stays; the folder is reached by imports that name it in full."""

    def __setattr__(self, name: str, value: object) -> None:
        if name not in _HOMES or not isinstance(value, ModuleType):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Package


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"latchwork has no {name!r}")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)
