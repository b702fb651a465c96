"""The compiled engine: a netlist as machine code in this process, made with LLVM. Equal to the oracle tick by tick."""

from latchwork.engines.compiled.errors import NotCompilable

__all__ = ["NotCompilable"]
