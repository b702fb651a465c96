"""The log of incidents: one entry for a kind and place, however often it comes again."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import replace

from latchwork.engines.protocol import Incident


class IncidentLog:
    """``entries`` are in the order in which they first happened; each counts how often it began."""

    def __init__(self) -> None:
        self.entries: list[Incident] = []
        self._index: dict[Hashable, int] = {}

    def add(self, incident: Incident) -> None:
        """Enter it, or count it where its kind, nets and chips are known already."""
        key = incident.kind, incident.nets, incident.chips
        if key in self._index:
            at = self._index[key]
            self.entries[at] = replace(self.entries[at], count=self.entries[at].count + 1)
        else:
            self._index[key] = len(self.entries)
            self.entries.append(incident)

    def saved(self) -> tuple[Incident, ...]:
        return tuple(self.entries)

    def restore(self, saved: tuple[Incident, ...]) -> None:
        self.entries[:] = saved
        self._index = {(each.kind, each.nets, each.chips): index for index, each in enumerate(saved)}
