"""Figures in the columns of a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from latchwork.reports.catalogue import FigureRow


def values(figure: FigureRow) -> tuple[str, str, str]:
    """Least, typical, most; nothing where a sheet gives none."""
    least, typical, most = (
        "" if value is None else f"{value:g}" for value in (figure.minimum, figure.typical, figure.maximum)
    )
    return least, typical, most
