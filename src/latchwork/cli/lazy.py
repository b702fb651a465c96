"""A group of commands that are imported only when one of them is called, so that help is quick."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module

import click


class LazyGroup(click.Group):
    """``summaries``: name of a command -> the sentence that help shows. Each lives in a module of its name."""

    def __init__(self, *args: object, package: str = "", summaries: Mapping[str, str] | None = None, **more: object):
        super().__init__(*args, **more)  # type: ignore[arg-type]
        self._package = package
        self._summaries = dict(summaries or {})

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(self._summaries)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in self._summaries:
            return None
        found = import_module(f"{self._package}.{cmd_name}").command
        assert isinstance(found, click.Command)
        return found

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in self._summaries and not args[0].startswith("-"):
            raise click.UsageError(f'there is no command "{args[0]}"{self._near(args[0])}', ctx)
        return super().resolve_command(ctx, args)

    def _near(self, name: str) -> str:
        from difflib import get_close_matches

        found = get_close_matches(name, self._summaries, n=1)
        return f'; did you mean "{found[0]}"?' if found else ""

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(self._summaries.items()))
