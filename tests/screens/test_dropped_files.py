"""What is dropped on the window: an assignment is known by its name, however that is written."""

from pathlib import Path

import pytest

from game.screens.dropped_files import dropped, is_assignment
from game.screens.routes import ToAssignment
from tests.screens.ways import ASSIGNMENT


@pytest.mark.parametrize(
    ("name", "is_one"),
    [("week.toml", True), ("WEEK.TOML", True), ("week.toml.txt", True), ("toml.xml", False), ("a", False)],
)
def test_an_assignment_is_known_by_its_name(name, is_one):
    assert is_assignment(Path(name)) is is_one


def test_an_assignment_leads_to_its_sheet_and_a_tune_nowhere(table, tmp_path):
    path = tmp_path / "week.toml"
    path.write_text(ASSIGNMENT, encoding="utf-8")
    (opened,) = {dropped(table.context, table.screen, path) for _ in range(2)}
    assert opened == ToAssignment(table.context.session.log.facts.assignments.kept[0].id)
    assert dropped(table.context, table.screen, Path("gone.toml")) is None
    assert "gone.toml" in table.context.window.message
    assert dropped(table.context, table.screen, Path("no such tune.abc")) is None
    table.wait_for_imports()
    assert table.context.window.message
