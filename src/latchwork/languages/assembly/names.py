"""Names of a program: labels and constants, local ones included, and how they are found."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from latchwork.languages.assembly import grammar
from latchwork.languages.assembly.errors import Refusal, Told, Unknown, near
from latchwork.languages.assembly.expressions import Expression

if TYPE_CHECKING:
    from latchwork.languages.assembly.frames import Where


@dataclass
class Definition:
    """A label (``space`` is where) or a constant, whose ``expression`` may wait for names that come later."""

    where: Where
    column: int
    value: int | None = None
    expression: Expression | None = None
    here: int = 0
    space: str = ""
    broken: bool = False  # it has no value, and that was said


@dataclass
class Names:
    """``outer``: the scope to look in where a repeated piece does not define a local label itself."""

    reserved: frozenset[str]
    defined: dict[str, Definition] = field(default_factory=dict)
    outer: dict[str, str] = field(default_factory=dict)
    _busy: list[str] = field(default_factory=list)

    def lookup(self, name: str) -> Definition | None:
        found = self.defined.get(name)
        while found is None:
            scope, point, local = name.rpartition(".")
            if not point or scope not in self.outer:
                return None
            name = f"{self.outer[scope]}.{local}"
            found = self.defined.get(name)
        return found

    def value(self, name: str, column: int) -> int:
        """Raises Unknown, or Refusal for a constant that leads to itself."""
        found = self.lookup(name)
        if found is None:
            raise Unknown(name, column)
        if found.broken:
            raise Told
        if found.value is None:
            found.value = self._worked_out(name, found, column)
        return found.value

    def _worked_out(self, name: str, constant: Definition, column: int) -> int:
        if name in self._busy:
            circle = " -> ".join(f"`{shown(step)}`" for step in [*self._busy[self._busy.index(name) :], name])
            raise Refusal("A113", f"`{shown(name)}` depends on itself: {circle}", column)
        assert constant.expression
        self._busy.append(name)
        try:
            return constant.expression.value(View(self, constant.where.scope, constant.here))
        except Unknown as unknown:
            unknown.column = column
            raise
        finally:
            self._busy.pop()

    def hint(self, name: str) -> str:
        """Names like it, or that a local label with this name belongs elsewhere."""
        local = name[name.rfind(".") :] if "." in name else ""
        owners = [full for full in self.defined if local and full.endswith(local) and grammar.USE not in full]
        if owners:
            return f"there is `{owners[0]}`"
        found = near(shown(name), [shown(other) for other in self.defined])
        if "." in name and found:
            return found
        return found or ("a local label belongs to the last label before it" if name.startswith(".") else "")


def shown(name: str) -> str:
    """The name without the marks that tell uses of macros apart."""
    scope, point, local = name.rpartition(".")
    return f"{point}{local}" if grammar.USE in scope else name


@dataclass
class View:
    """The names as seen from a statement."""

    names: Names
    scope: str
    here: int

    def find(self, name: str, column: int) -> int:
        full = self.scope + name if name[0] == "." else name
        known = self.names.defined.get(full)
        if known is not None and known.value is not None:
            return known.value
        return self.names.value(full, column)

    def defined(self, name: str) -> bool:
        return self.names.lookup(self.scope + name if name[0] == "." else name) is not None
