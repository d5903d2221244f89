"""What is dropped on the window: an assignment is known by its name, however that is written."""

from pathlib import Path

import pytest

from game.screens.dropped_files import dropped, is_assignment
from game.screens.routes import ToAssignment


@pytest.mark.parametrize(
    ("name", "is_one"), [("week.toml", True), ("WEEK.TOML", True), ("toml.xml", False), ("a", False)]
)
def test_an_assignment_is_known_by_its_name(name, is_one):
    assert is_assignment(Path(name)) is is_one


def test_an_assignment_leads_to_its_sheet_and_a_tune_nowhere(table):
    assert dropped(table.context, table.screen, Path("week.toml")) == ToAssignment(Path("week.toml"))
    assert dropped(table.context, table.screen, Path("no such tune.abc")) is None
    table.wait_for_imports()
    assert table.context.window.message
