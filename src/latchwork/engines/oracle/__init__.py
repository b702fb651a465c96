"""The oracle: plain, event driven, four values. It defines what a netlist does; see docs/semantics.md."""

from latchwork.engines.oracle.oracle import Oracle

__all__ = ["Oracle"]
