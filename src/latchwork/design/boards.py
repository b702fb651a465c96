"""``with m.board(...)``: a block of statements that stand on one board."""

from __future__ import annotations

from types import TracebackType

from latchwork.design.draft import Draft
from latchwork.design.mistakes import mistake


class BoardBlock:
    """Inside its block chips belong to the board. Blocks with one name describe one board."""

    def __init__(self, draft: Draft, name: str, title: str) -> None:
        self._draft = draft
        self._name = name
        self._title = title

    def __enter__(self) -> None:
        draft = self._draft
        if draft.board >= 0:
            outer = draft.boards[draft.board].name
            raise mistake("M019", f'the board "{self._name}" is written inside of the board "{outer}"',
                          help="end the outer block first; boards stand beside each other")  # fmt: skip
        draft.board = draft.board_named(self._name, self._title)

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._draft.board = -1
