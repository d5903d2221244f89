"""What is written of a map is written whole, and nothing is lost by it."""

import pytest

from game.assignments.map_file import map_text, read_map
from game.commands.map_outputs import faults_of_name, is_chart, is_map_file, write_chart, write_map
from game.errors import MapError
from game.neck.neck_map import standard_map
from game.report import map_chart
from game.report.map_chart import ChartStyle
from game.text.catalogue import catalogue_in, choose, tell
from tests.refusing import refusal

MAP, OTHER = standard_map(), standard_map(position=7)


def test_a_map_is_written_and_the_same_one_again(tmp_path):
    path = tmp_path / "map.toml"
    for _ in range(2):
        write_map(MAP, path, None)
        assert read_map(path) == MAP
    assert list(tmp_path.iterdir()) == [path]


def test_another_map_is_not_written_over_but_for_the_one_that_was_begun_with(tmp_path):
    path = tmp_path / "map.toml"
    write_map(MAP, path, None)
    with refusal(MapError, "holds another map already: name a new file, or begin with that map by --map"):
        write_map(OTHER, path, None)
    with refusal(MapError, "holds another map already"):
        write_map(OTHER, path, tmp_path / "elsewhere.toml")
    assert read_map(path) == MAP
    write_map(OTHER, path, path)
    assert read_map(path) == OTHER


def test_what_somebody_remarked_in_it_by_hand_is_not_lost(tmp_path):
    path = tmp_path / "map.toml"
    path.write_text(f"{map_text(MAP)}# G sharp hurts: ask at the next lesson\n", encoding="utf-8")
    for over in (MAP, OTHER):
        with refusal(MapError, "was written by hand, and what is remarked there would be lost"):
            write_map(over, path, path)
    assert "hurts" in path.read_text(encoding="utf-8")


def test_a_map_that_was_written_in_another_language_is_ours_too(tmp_path):
    path = tmp_path / "map.toml"
    choose(catalogue_in("de"))
    try:
        write_map(MAP, path, None)
    finally:
        choose(catalogue_in("en"))
    assert path.read_text(encoding="utf-8").startswith("# Eine Karte")
    write_map(OTHER, path, path)
    assert read_map(path) == OTHER


@pytest.mark.parametrize("content", ["", "title = 'The week'", "[map]\nposition = 99", "\0"])
def test_what_is_no_map_is_left_alone(tmp_path, content):
    path = tmp_path / "map.toml"
    path.write_text(content, encoding="utf-8")
    assert [tell(one) for one in faults_of_name(path)] == [f"{path} is there already and is no map: name a new file"]
    with refusal(MapError, "is there already and is no map"):
        write_map(MAP, path, path)
    assert path.read_text(encoding="utf-8") == content


def test_names_tell_what_is_written_and_a_folder_that_is_not_there_is_told(tmp_path):
    assert is_chart(tmp_path / "a.PNG")
    assert is_map_file(tmp_path / "a.TOML")
    assert not is_chart(None)
    assert faults_of_name(tmp_path / "a.svg") == faults_of_name(tmp_path / "a.toml") == []
    assert "give it a name ending in" in tell(faults_of_name(tmp_path / "a.txt")[0])
    assert "No such file or directory" in tell(faults_of_name(tmp_path / "gone" / "a.png")[0])


def test_a_chart_that_cannot_be_finished_leaves_the_one_there_was(tmp_path, monkeypatch):
    path = tmp_path / "map.svg"
    write_chart(MAP, path, ChartStyle())
    before = path.read_bytes()

    def full(_path, _content):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(map_chart, "write_whole_file", full)
    with refusal(MapError, "the chart cannot be written to"):
        write_chart(OTHER, path, ChartStyle())
    assert path.read_bytes() == before
