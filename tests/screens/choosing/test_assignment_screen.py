"""An assignment is read and shown, and its map holds."""


def test_its_map_holds_from_then_on(table, tmp_path):
    path = tmp_path / "seventh.toml"
    path.write_text('title = "Higher up"\n[map]\nposition = 7\n[[line]]\nlevel = 1\n')
    table.drop(path)
    assert table.context.settings.position == 7


def test_all_faults_are_told_at_once_and_the_shelf_stays(table, tmp_path):
    path = tmp_path / "faulty.toml"
    path.write_text('title = "Faulty"\n[[tune]]\nstages = ["flying"]\n[[line]]\nlevel = 99\n')
    table.drop(path)
    assert table.screen_name == "ShelfScreen"
    assert "flying" in table.context.window.message
    assert "99" in table.context.window.message
