"""`homefret line`: the contract of its answer."""

import argparse

import pytest

from game.commands.line_command import add_parser, run
from game.errors import TuneError
from game.lines.fresh_line import rhythm_for
from game.lines.levels import level_of
from game.music.meter import Meter
from game.tunes.read_tune import read_tune
from tests.commands.running import answer, homefret, refused
from tests.refusing import refusal


def test_a_line_is_told_note_by_note_with_its_level_and_seed():
    read = answer("line", "--level", 7, "--key", "Bb", "--bars", 12, "--seed", 4)
    assert (read["level"], read["level_name"]) == (7, "approach notes and enclosures")
    assert (read["bars"], read["seed"]) == (12, 4)
    assert read["off_map"] == []
    assert read["key_fifths"] == -2
    assert len(read["chords"]) >= 12


def test_a_line_written_as_musicxml_is_read_back_as_it_was(tmp_path):
    made = answer("line", "--level", 8, "--key", "Am", "--seed", 9, "--out", tmp_path / "line.musicxml")
    read = answer("score", tmp_path / "line.musicxml")
    assert [(n["written"], n["onset"], n["length"]) for n in read["notes"]] == [
        (n["written"], n["onset"], n["length"]) for n in made["notes"]
    ]


def test_rhythm_and_metre_may_be_chosen_beside_the_level():
    read = answer("line", "--level", 2, "--rhythm", 5, "--meter", "3/4", "--seed", 4)
    assert (read["rhythm"], read["rhythm_name"], read["meter"]) == (5, "ties and syncopation", "3/4")
    assert rhythm_for(level_of(2), Meter()).name == "pairs of eighths"


@pytest.mark.parametrize(("level", "swung"), [(7, True), (1, None)])
def test_the_swing_of_a_line_is_still_there_when_its_file_is_read(tmp_path, level, swung):
    path = tmp_path / "line.musicxml"
    answer("line", "--level", level, "--seed", 3, "--out", path)
    assert read_tune(path).swung is swung


def test_people_get_a_table_and_the_same_seed_gives_the_same():
    table = homefret("line", "--seed", 1).stdout
    assert table.startswith("Five notes, in F, seed 1")
    assert table == homefret("line", "--seed", 1).stdout


def test_a_mistake_is_one_line_and_exit_status_2():
    assert "there is no level 0: choose 1 (five notes)" in refused("line", "--level", 0)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--key", "X"), "no key is called"),
        (("--bars", "1"), "choose 2 to 64"),
        (("--rhythm", "9"), "there is no rhythm 9"),
        (("--meter", "7/8"), "lines are not made in '7/8'"),
        (("--level", "8", "--meter", "6/8"), "cannot be written in 6/8"),
    ],
)
def test_each_word_that_cannot_be_is_refused_with_what_to_do(words, message):
    parser = argparse.ArgumentParser()
    add_parser(parser.add_subparsers())
    args = parser.parse_args(["line", *words])
    with refusal(TuneError, message):
        run(args)
