"""An assignment is read and shown, and its map holds."""

import hashlib
import json

import pytest

from game.desk.kit.canvas import Canvas


@pytest.fixture
def written(monkeypatch):
    """Every text that is written on a sheet, as it stands there."""
    there, write = [], Canvas.write

    def written(canvas, text, *more):
        there.append(text)
        return write(canvas, text, *more)

    monkeypatch.setattr(Canvas, "write", written)
    return there


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


def test_a_sheet_that_is_left_open_over_midnight_tells_of_the_new_day(table, tmp_path, written):
    path = tmp_path / "week.toml"
    path.write_text('title = "The week"\ndue = 2026-11-25\n[[line]]\nlevel = 1\n')
    table.drop(path)
    for words in ("due tomorrow", "due today", "overdue since Wednesday 25 November"):
        table.wait(0.1)
        table.picture()
        assert words in written
        table.day += 1


def test_a_long_title_is_cut_and_its_bars_are_not(table, tmp_path, written):
    path = tmp_path / "week.toml"
    title = "A study of shifts for the left hand in the fifth position " * 3
    path.write_text(f'title = "x"\n[[tune]]\ntitle = "{title}"\nbars = [12, 15]\n')
    table.drop(path)
    table.picture()
    assert any(words.startswith("A study") and words.endswith("…, bars 12 to 15") for words in written)


def test_parts_above_those_in_sight_are_told_as_well_as_those_below(table, tmp_path, written):
    path = tmp_path / "week.toml"
    path.write_text('title = "x"\n' + "[[line]]\nlevel = 1\n" * 14)
    table.drop(path)
    for chosen, said in ((0, ("below",)), (7, ("below", "above")), (13, ("above",))):
        table.screen._chosen = chosen
        written.clear()
        table.picture()
        (words,) = (words for words in written if " more " in words)
        assert [word for word in ("below", "above") if word in words] == list(said)
