"""What machine.py is written with."""

from latchwork.design.handle import Handle
from latchwork.design.idle import Idle, keeper, pull_down, pull_up
from latchwork.design.machine import Machine
from latchwork.design.signals import HIGH, LOW, OPEN, Bus, Level, Net

__all__ = ["HIGH", "LOW", "OPEN", "Bus", "Handle", "Idle", "Level", "Machine", "Net", "keeper", "pull_down", "pull_up"]
