"""LLVM in this process: a module compiled, its functions to be called from Python."""

from __future__ import annotations

import ctypes
from collections.abc import Callable, Mapping
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
    """A module whose functions can be called from Python; keeps its code as long as it lives. ``others``: functions
    that it declares and calls."""

    def __init__(self, module: ir.Module, others: Mapping[str, Callable[..., int]] | None = None) -> None:
        self._machine = _machine()
        parsed = self._optimised(module)
        self._engine = binding.create_mcjit_compiler(parsed, self._machine)
        declared = {each.name for each in parsed.functions}
        for name, function in (others or {}).items():
            if name in declared:
                address = ctypes.cast(function, ctypes.c_void_p).value  # type: ignore[arg-type]
                self._engine.add_global_mapping(parsed.get_function(name), address)
        self._others = others
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
        found: Any = kind(self._engine.get_function_address(name))
        found.compiled = self
        return found  # type: ignore[no-any-return]

    def functions(self, **arguments: int) -> dict[str, Callable[..., int]]:
        """By name, with their numbers of arguments."""
        return {name: self.function(name, count) for name, count in arguments.items()}
