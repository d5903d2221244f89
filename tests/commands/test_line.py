"""`homefret line`: the contract of its answer."""

import pytest

from game.tunes.reading import read_tune
from tests.commands.running import answer, homefret, refused


def test_a_line_is_told_note_by_note_with_its_level_and_seed():
    read = answer("line", "--level", 7, "--key", "Bb", "--bars", 12, "--seed", 4)
    assert (read["level"], read["level_name"]) == (7, "approach notes and enclosures")
    assert (read["bars"], read["seed"]) == (12, 4)
    assert read["off_map"] == []
    assert read["key_fifths"] == -2
    assert len(read["chords"]) >= 12


def test_the_same_seed_gives_the_same_line():
    assert answer("line", "--seed", 4) == answer("line", "--seed", 4)


def test_a_line_written_as_musicxml_is_read_back_as_it_was(tmp_path):
    made = answer("line", "--level", 8, "--key", "Am", "--seed", 9, "--out", tmp_path / "line.musicxml")
    read = answer("score", tmp_path / "line.musicxml")
    assert [(n["written"], n["onset"], n["length"]) for n in read["notes"]] == [
        (n["written"], n["onset"], n["length"]) for n in made["notes"]
    ]


@pytest.mark.parametrize(("level", "swung"), [(7, True), (1, None)])
def test_the_swing_of_a_line_is_still_there_when_its_file_is_read(tmp_path, level, swung):
    path = tmp_path / "line.musicxml"
    answer("line", "--level", level, "--seed", 3, "--out", path)
    assert read_tune(path).swung is swung


def test_people_get_a_table():
    assert homefret("line", "--seed", 1).stdout.startswith("Five notes, in F, seed 1")


@pytest.mark.parametrize(
    ("words", "message"),
    [(("--level", 0), "there is no level 0"), (("--key", "X"), "no key is called"), (("--bars", 1), "choose 2 to 64")],
)
def test_a_mistake_is_one_line_and_exit_status_2(words, message):
    assert message in refused("line", *words)
