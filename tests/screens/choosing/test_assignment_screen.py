"""An assignment is read and shown, and its map holds."""

import hashlib
import json


def test_its_map_holds_for_its_takes_and_not_for_the_player(table, tmp_path):
    path = tmp_path / "seventh.toml"
    path.write_text('title = "Higher up"\n[map]\nposition = 7\n[[line]]\nlevel = 1\nstages = ["sight"]\n')
    table.settle(choices={64: (3, 9)})
    table.drop(path)
    assert table.context.settings.position == 5
    assert table.context.settings.choices == {64: (3, 9)}
    table.pluck_free_string(1)
    assert table.screen.neck_map.position == 7


def test_what_is_set_for_another_guitar_is_told_and_read_on_the_players_own_map(table, tmp_path):
    path = tmp_path / "seven.toml"
    path.write_text('title = "Low"\n[map]\ntuning = "35 40 45 50 55 59 64"\n[[line]]\nlevel = 1\n')
    table.drop(path)
    assert "7 strings" in table.context.window.message
    table.pluck_free_string(1)
    assert table.screen.neck_map == table.context.settings.neck_map()


def test_all_faults_are_told_at_once_and_the_shelf_stays(table, tmp_path):
    path = tmp_path / "faulty.toml"
    path.write_text('title = "Faulty"\n[[tune]]\nstages = ["flying"]\n[[line]]\nlevel = 99\n')
    table.drop(path)
    assert table.screen_name == "ShelfScreen"
    assert "flying" in table.context.window.message
    assert "99" in table.context.window.message


def test_what_was_opened_stands_in_the_log_as_the_teacher_wrote_it(table, tmp_path):
    """So that another computer of the player's can show it."""
    path = tmp_path / "week.toml"
    path.write_text('title = "The week"\ndue = 2026-12-04\n[[line]]\nlevel = 1\n')
    table.drop(path)
    table.drop(path)
    ((content,),) = table.logged("SELECT content FROM fact WHERE about = 'assignment'")
    kept = json.loads(content)
    assert kept["text"] == path.read_text()
    assert (kept["title"], kept["due"]) == ("The week", "2026-12-04")
    assert kept["digest"] == hashlib.sha256(path.read_bytes()).hexdigest()


def test_with_a_guitar_in_hand_the_free_string_begins_its_part_and_twice_goes_back(table, tmp_path):
    path = tmp_path / "week.toml"
    path.write_text('title = "The week"\n[[tune]]\ntitle = "Ode to Joy"\nbars = [1, 4]\nstages = ["time"]\n')
    table.drop(path)
    table.pluck_free_string(2)
    assert table.screen_name == "TodayScreen"
    table.drop(path)
    table.pluck_free_string(1)
    assert table.screen_name == "FreePage"
