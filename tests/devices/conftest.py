"""Devices hang on either engine alike."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from either_engine import ENGINES


@pytest.fixture(params=["oracle", "compiled"])
def either_engine(request: pytest.FixtureRequest) -> Iterator[None]:
    ENGINES.compiled = request.param == "compiled"
    yield
    ENGINES.compiled = False
