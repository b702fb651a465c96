"""LLVM in this process: a module compiled, its functions to be called from Python."""

from __future__ import annotations

import ctypes
from collections.abc import Callable
from functools import cache
from typing import Any

from llvmlite import binding, ir


@cache
def _host() -> Any:
    binding.initialize_native_target()
    binding.initialize_native_asmprinter()
    return binding.Target.from_default_triple()


def _machine() -> Any:
    return _host().create_target_machine(
        cpu=binding.get_host_cpu_name(), features=binding.get_host_cpu_features().flatten(), opt=2
    )


class Compiled:
    """Modules that call each other's functions; keeps its code as long as it lives."""

    def __init__(self, module: ir.Module) -> None:
        self._machine = _machine()
        self._engine = binding.create_mcjit_compiler(self._optimised(module), self._machine)
        self._engine.finalize_object()

    def add(self, module: ir.Module) -> None:
        """Compile more, which may call what there is."""
        self._engine.add_module(self._optimised(module))
        self._engine.finalize_object()

    def _optimised(self, module: ir.Module) -> Any:
        module.triple = self._machine.triple
        module.data_layout = str(self._machine.target_data)
        parsed = binding.parse_assembly(str(module))
        parsed.verify()
        options = binding.create_pipeline_tuning_options(speed_level=2)
        builder = binding.create_pass_builder(self._machine, options)
        builder.getModulePassManager().run(parsed, builder)
        return parsed

    def function(self, name: str, arguments: int) -> Callable[..., int]:
        """A function of cells: the address of the block, then numbers; returns a number."""
        kinds = [ctypes.c_void_p, *[ctypes.c_uint64] * (arguments - 1)]
        kind = ctypes.CFUNCTYPE(ctypes.c_uint64, *kinds)
        found: Callable[..., int] = kind(self._engine.get_function_address(name))
        return found
