"""A signature is drawn or typed, and comes out of the log as it was kept."""

import json

import pytest

from game.player.kept_signature import MOST_POINTS, PlayerSignature, signature_content, told_signature

DRAWN = PlayerSignature(strokes=(((0.1, 0.5), (1.25, 0.4), (2.5, 0.75)), ((3.0, 0.2),)))


@pytest.mark.parametrize("signature", [DRAWN, PlayerSignature(typed="Ada B.")])
def test_it_comes_back_as_it_was_kept(signature):
    assert told_signature(json.loads(json.dumps(signature_content(signature)))) == signature


def test_a_pen_that_leaves_the_room_stays_at_its_edge():
    told = told_signature(signature_content(PlayerSignature(strokes=(((-3.0, 0.5), (99.0, 7.0)),))))
    assert told.strokes == (((0.0, 0.5), (8.0, 1.0)),)


def test_of_endless_scribbling_as_much_is_kept_as_there_is_room_for():
    scribble = tuple((at % 100 / 50, at % 7 / 7) for at in range(MOST_POINTS + 500))
    told = told_signature(signature_content(PlayerSignature(strokes=(scribble, scribble))))
    assert [len(stroke) for stroke in told.strokes] == [MOST_POINTS]


@pytest.mark.parametrize(
    "content",
    [
        {},
        {"typed": " \n"},
        {"typed": 7},
        {"strokes": []},
        {"strokes": [[]]},
        {"strokes": [[["a", 0]]]},
        {"strokes": [[[0.5, 1.5]]]},
        {"strokes": [[[float("nan"), 0.5]]]},
        {"strokes": [[[0.5, 0.5]]], "typed": "both"},
        {"strokes": [[[0.5, 0.5]] * (MOST_POINTS + 1)]},
    ],
)
def test_what_makes_no_sense_is_no_signature(content):
    assert told_signature(content) is None


def test_a_typed_name_from_elsewhere_turns_and_hides_nothing():
    assert told_signature({"typed": "A\u202eda\n B."}).typed == "Ada B."
