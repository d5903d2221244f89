"""The words that settle a map."""

import argparse

import pytest

from game.commands.map_options import add_map_words, add_read_word, map_from, reading_from
from game.errors import MapError
from game.music.score import Reading
from tests.refusing import refusal


@pytest.fixture
def parser():
    made = argparse.ArgumentParser()
    add_map_words(made)
    add_read_word(made)
    return made


def test_left_out_they_are_position_five_in_standard_tuning(parser):
    args = parser.parse_args([])
    neck_map = map_from(args)
    assert (neck_map.position, neck_map.tuning.name, neck_map.frets) == (5, "standard", 22)
    assert (neck_map.reading, reading_from(args)) == (Reading.GUITAR, None)


def test_each_of_them_counts(parser):
    args = parser.parse_args("--position 2 --tuning drop-d --frets 19 --read concert".split())
    neck_map = map_from(args, reading_from(args))
    assert (neck_map.position, neck_map.tuning.name, neck_map.frets) == (2, "drop-d", 19)
    assert neck_map.reading is Reading.CONCERT


def test_a_map_that_cannot_be_is_refused(parser):
    with refusal(MapError, "position 30 is not on this neck"):
        map_from(parser.parse_args(["--position", "30"]))
