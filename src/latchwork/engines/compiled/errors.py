"""What the compiled engine leaves to the oracle."""

from __future__ import annotations


class NotCompilable(Exception):
    """The machine, or the way it is to be run, has something that there is no compiled form of; the text names it."""
