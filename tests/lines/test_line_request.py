"""What a line is asked to be."""

from dataclasses import replace
from random import Random

from game.lines.fingering import fingers_of
from game.lines.levels import LEVELS
from game.lines.line_request import LineRequest
from game.lines.rhythms import RHYTHMS
from game.lines.scale import scale_of
from game.lines.tune import tune
from game.music.keys import Key
from game.music.meter import Meter
from tests.lines.making import MAP

REQUEST = LineRequest(
    level=LEVELS[1],
    rhythm=RHYTHMS[1],
    scale=scale_of(Key(-1), MAP),
    meter=Meter(),
    bars=8,
    weights={65: 4.0, 67: 0.0},
    fingers=fingers_of(MAP),
)


def test_a_note_is_wished_for_as_the_player_weighs_it_and_one_of_weight_0_as_a_last_resort():
    assert [REQUEST.wish(midi) for midi in (65, 66)] == [4.0, 1.0]
    assert 0 < REQUEST.wish(67) < 1e-5


def test_a_song_is_made_of_the_notes_that_have_weight_and_of_others_where_none_has():
    sung = {note.pitch.midi for bar in tune(REQUEST, Random(1)) for note in bar.notes}
    assert 67 not in sung
    assert tune(replace(REQUEST, weights=dict.fromkeys(REQUEST.scale.written, 0.0)), Random(1))
