"""A table for each test."""

import pytest

from tests.screens.table import Table


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path)
