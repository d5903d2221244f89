"""The count stands with each beat that sounds."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from game.desk.count_drawing import Count
from game.neck.neck_map import standard_map
from game.practice.take_request import request_for
from game.screens.reading.shown_count import shown_count
from tests.made import score

REQUEST = request_for(score("F4 q, G4 q, A4 q, F4 q"), standard_map())


def shown(onset_quarters, *, at_quarters=0.0, **changes):
    sounds = None if onset_quarters is None else (SimpleNamespace(onset_quarters=onset_quarters), 0.0)
    metronome = SimpleNamespace(beat=lambda _: sounds)
    take = SimpleNamespace(position=lambda _: at_quarters)
    return shown_count(metronome, take, replace(REQUEST, **changes), 1.0)


@pytest.mark.parametrize(("onset", "beat"), [(-4, 1), (-1, 4), (0, 1), (2, 3), (5, 2)])
def test_a_beat_is_counted_in_its_bar_the_count_in_too(onset, beat):
    assert shown(onset) == Count(beat, 4)


def test_between_beats_and_where_every_note_has_its_click_there_is_none():
    assert shown(None) is None
    assert shown(0, one_a_click=True) is None
    assert shown(-2, at_quarters=-2.0, one_a_click=True) == Count(3, 4)
