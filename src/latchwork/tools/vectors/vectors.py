"""A test for one chip in hand: found by search, then confirmed fault by fault on the oracle."""

from __future__ import annotations

from latchwork.analysis.one_part.elementary import elementary
from latchwork.analysis.one_part.faults import Fault, described, faults_of
from latchwork.parts import Part
from latchwork.reports.vectors import VectorsReport
from latchwork.tools.vectors.confirm import certain, confirmed
from latchwork.tools.vectors.plain import plain_vectors
from latchwork.tools.vectors.steps import step_vectors
from latchwork.tools.vectors.tester import checked


def vectors(part: Part, seed: int = 0) -> VectorsReport:
    """The same part and seed give the same test. Raises LatchworkError (C121) for a part that it does not suit."""
    checked(part)
    tester = checked(elementary(part))
    faults = faults_of(tester.part)
    found = (step_vectors if tester.keeps_state else plain_vectors)(tester, seed)
    rows = certain(tester, found.vectors)
    shown = set(confirmed(tester, rows, found.shown))
    hidden = set(found.hidden)

    def sentences(kept: list[Fault]) -> tuple[str, ...]:
        return tuple(described(tester.part, fault) for fault in kept)

    return VectorsReport(
        part=part.name,
        title=part.title,
        seed=seed,
        pins=tester.described(),
        vectors=tuple(rows),
        faults=len(faults),
        pin_faults=sum(fault.node is None for fault in faults),
        found=len(shown),
        hidden=sentences([fault for fault in faults if fault in hidden]),
        missed=sentences([fault for fault in faults if fault not in hidden and fault not in shown]),
        coverage=round(100 * len(shown) / max(1, len(faults) - len(hidden)), 2),
    )
