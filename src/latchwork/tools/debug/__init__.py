"""Stopping a running machine anywhere, looking at it, and going back."""

from latchwork.tools.debug.session import Session

__all__ = ["Session"]
