"""Simulation with delays: every event at its own time, so that late data are seen to be late.

``simulation``: events and nets. ``chips``: what a chip does when its pins move. ``trial``: a program tried at a clock.
"""

from latchwork.engines.delayed.simulation import Delayed, Late

__all__ = ["Delayed", "Late"]
