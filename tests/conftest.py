"""A test that needs outside data may be skipped where these are absent, and fails the run where they are there.

The data stand in ``data`` of the folder that LATCHWORK_SHARED names, else of ``shared`` beside this checkout.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

# A busy machine makes drawing slow now and then; that says nothing about the program.
settings.register_profile("any machine", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("any machine")

SHARED = Path(os.environ.get("LATCHWORK_SHARED", Path(__file__).parents[2] / "shared"))


@pytest.hookimpl(hookwrapper=True)
def pytest_runtest_makereport(item: pytest.Item):  # type: ignore[no-untyped-def]
    outcome = yield
    report = outcome.get_result()
    if report.skipped and item.get_closest_marker("needs_shared") and (SHARED / "data").is_dir():
        report.outcome = "failed"
        report.longrepr = f"{item.nodeid} was skipped although {SHARED / 'data'} is there"
