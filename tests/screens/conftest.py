"""A table for each test, and what may be plugged in there."""

import pytest

from tests.screens.plugged_in import Plugged
from tests.screens.table import Table


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path)


@pytest.fixture
def pickup(table):
    return Plugged(table)
