"""Signals over time, simulated or captured alike; written and read as VCD and CSV."""

from latchwork.traces.recorder import Recorder
from latchwork.traces.trace import Change, Signal, Trace

__all__ = ["Change", "Recorder", "Signal", "Trace"]
