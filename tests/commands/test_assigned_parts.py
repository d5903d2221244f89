"""The words of an assignment whose order counts."""

import argparse

import pytest

from game.commands.assigned_parts import add_part_words


@pytest.fixture
def parser():
    made = argparse.ArgumentParser()
    add_part_words(made)
    return made


def told(part):
    return part.kind, part.words, part.stages, part.tempo


def test_stage_and_tempo_belong_to_the_part_before_them(parser):
    args = parser.parse_args("--tune Ode --stage places,time --lines 3:2 --tempo 66 --stage sight".split())
    assert [told(part) for part in args.parts] == [
        ("tune", "Ode", ["places", "time"], None),
        ("line", "3:2", ["sight"], "66"),
    ]
    assert args.everywhere is None


def test_before_the_first_part_they_belong_to_all(parser):
    args = parser.parse_args("--tempo 80 --stage time --tune Ode".split())
    assert told(args.everywhere) == ("", "", ["time"], "80")
    assert [told(part) for part in args.parts] == [("tune", "Ode", [], None)]


def test_without_them_nothing_is_asked(parser):
    args = parser.parse_args([])
    assert (args.parts, args.everywhere) == (None, None)
