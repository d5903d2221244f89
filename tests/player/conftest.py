"""A table for each test, and one at which somebody has practised."""

import pytest

from tests.screens.table import Table


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path)


@pytest.fixture
def practised(table, monkeypatch):
    """Three takes were played, and every one is worth a snapshot."""
    monkeypatch.setattr("game.player.log_fold._WORTH_KEEPING", 1)
    for _ in range(3):
        table.open("F4 h, G4 h", "A4 w")
        table.play_through()
    assert table.context.session.log.flush()
    return table
