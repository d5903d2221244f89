"""What is tested here is the process itself: each test starts its own."""

import pytest

from tests.shared_readers import SHARED_READERS


@pytest.fixture(autouse=True)
def own_readers(monkeypatch):
    monkeypatch.setattr(SHARED_READERS, "on", False)
