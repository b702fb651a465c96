"""Things that hang on a machine and are no logic chips: their protocol, and the devices themselves."""

from latchwork.devices.protocol import Bench, Device, Edge, Output, Watch

__all__ = ["Bench", "Device", "Edge", "Output", "Watch"]
