"""What the compiled engine leaves to the oracle."""

from __future__ import annotations


class NotCompilable(Exception):  # noqa: N818 - it says what holds, and is no mistake of anyone
    """The machine, or the way it is to be run, has something that there is no compiled form of; the text names it."""
