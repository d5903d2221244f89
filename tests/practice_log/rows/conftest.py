"""A log in memory for the tests of a module."""

import pytest

from game.practice_log.database.store import open_store
from tests.practice_log.logged_takes import MORNING


@pytest.fixture(name="log", scope="module")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()
