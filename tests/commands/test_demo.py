"""`homefret demo`, and `homefret` alone where there is no screen."""

from pathlib import Path

from game.paths import user_data
from tests.commands.running import answer, homefret, refused


def test_the_demo_plays_untimed_takes_and_leaves_pictures_of_the_page_before_and_after(tmp_path):
    read = answer("demo", "--fast", "--out", tmp_path / "out")
    names = [Path(file).name for file in read["files"]]
    assert any("before" in name for name in names)
    assert any("after" in name for name in names)
    assert all(Path(file).read_bytes().startswith(b"\x89PNG") for file in read["files"])
    assert {take["stage"] for take in read["takes"]} == {"letters", "places"}
    assert all(take["tempo"] is None for take in read["takes"])


def test_the_same_seed_plays_the_same_takes_and_another_seed_others(tmp_path):
    takes = [
        answer("demo", "--fast", "--seed", seed, "--out", tmp_path / str(i))["takes"]
        for i, seed in enumerate((1, 1, 2))
    ]
    assert takes[0] == takes[1]
    assert takes[0] != takes[2]


def test_the_demo_never_touches_the_players_own_folders(tmp_path):
    answer("demo", "--fast", "--out", tmp_path / "out")
    assert list(user_data().iterdir()) == []


def test_without_any_screen_the_game_says_so_and_runs_the_demo():
    done = homefret(SDL_VIDEODRIVER=None, DISPLAY=None, WAYLAND_DISPLAY=None)
    assert done.returncode == 0
    assert "no screen" in done.stderr
    pictures = [line for line in done.stdout.splitlines() if line.endswith(".png")]
    assert pictures
    assert all(Path(picture).exists() for picture in pictures)


def test_a_folder_that_cannot_be_written_is_refused(tmp_path):
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    assert "name another folder with --out" in refused("demo", "--fast", "--out", tmp_path / "file")


def test_a_command_that_is_none_is_refused():
    assert "homefret --help" in refused("dance")
