"""Macros: their parameters, and the arguments of a use."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass

from latchwork.languages.assembly import grammar
from latchwork.languages.assembly.blocks import Node
from latchwork.languages.assembly.errors import Refusal, counted, listed
from latchwork.languages.assembly.frames import Where, argument
from latchwork.languages.assembly.scan import Line, split
from latchwork.problems import Label


@dataclass
class Macro:
    parameters: tuple[tuple[str, str | None], ...]  # with default values
    body: list[Node]
    where: Where

    @property
    def name(self) -> str:
        return self.where.line.rest.partition(" ")[0]


def parameters(text: str, column: int) -> list[tuple[str, str | None]]:
    """What a declaration lists, with default values. Raises Refusal."""
    found: list[tuple[str, str | None]] = []
    for piece, at in split(text.rstrip()) if text.strip() else []:
        name, equals, default = (part.strip() for part in piece.partition("="))
        if not grammar.plain_name.fullmatch(name) or name in (known for known, _ in found):
            what = f"`{name}` stands twice" if name in (known for known, _ in found) else f"found `{piece}`"
            raise Refusal("A141", f"{what} among the parameters", column + at, "names, separated by commas")
        found.append((name, default if equals else None))
    return found


def arguments(macro: Macro, line: Line, scope: str, reserved: Container[str]) -> dict[str, str]:
    """The texts for the parameters, from a line that uses the macro. Raises Refusal."""
    name = macro.name
    given = split(line.rest)
    if len(given) > len(macro.parameters):
        most = counted(len(macro.parameters), "argument")
        column = line.column + given[len(macro.parameters)][1]
        raise Refusal("A142", f"`{name}` takes {most}, not {len(given)}", column, "", [_declared(macro)])
    texts = {}
    for index, (parameter, default) in enumerate(macro.parameters):
        text = given[index][0] if index < len(given) else ""
        if not text and default is None:
            message = f"`{name}` needs its argument `{parameter}`"
            raise Refusal("A142", message, line.word_column, "", [_declared(macro)])
        texts[parameter] = argument(text or default or "", scope, reserved)
    return texts


def _declared(macro: Macro) -> Label:
    line = macro.where.line
    words = listed((name for name, _ in macro.parameters), "and") if macro.parameters else "no parameters"
    return Label(line.position(line.column), f"declared here with {words}")
