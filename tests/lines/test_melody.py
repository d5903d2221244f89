"""A tune as indices of its scale: within its range, in its moves, and home at the end."""

from itertools import pairwise
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from game.lines.contour import heights_of
from game.lines.levels import LEVELS, LineMethod
from game.lines.line_request import LineRequest
from game.lines.melody import melody, melody_frame
from game.lines.phrasing import letters_of, phrases_of
from game.lines.plain_chords import plain_chords
from game.lines.rhythms import RHYTHMS
from game.lines.scale import key_named, scale_of
from game.music.meter import Meter
from tests.lines.making import MAP

LEVELS_ALONG_THE_SCALE = [level for level in LEVELS if level.method is LineMethod.SCALE]
F = scale_of(key_named("F"), MAP)


def made(level, counts, seed):
    """The frame of a tune with so many notes in each bar, and the tune."""
    rng = Random(seed)
    phrases = phrases_of(len(counts))
    request = LineRequest(level=level, rhythm=RHYTHMS[0], scale=F, meter=Meter(), bars=len(counts), weights={})
    chords = plain_chords(level, F, phrases, rng)
    frame = melody_frame(request, chords, heights_of(phrases, rng), counts, rng)
    return frame, melody(frame, letters_of(phrases, rng), rng)


counts = st.lists(st.integers(1, 8), min_size=2, max_size=8)


@given(st.sampled_from(LEVELS_ALONG_THE_SCALE), counts, st.integers(0, 500))
def test_whatever_the_rhythm_each_bar_has_its_notes_in_the_range(level, numbers, seed):
    frame, rows = made(level, numbers, seed)
    assert [len(row) for row in rows] == numbers
    assert all(frame.low <= index <= frame.high for row in rows for index in row)


@given(st.sampled_from(LEVELS_ALONG_THE_SCALE), counts, st.integers(0, 500))
def test_it_ends_on_the_key_note_reached_by_step(level, numbers, seed):
    frame, rows = made(level, numbers, seed)
    line = [index for row in rows for index in row]
    assert line[-1] in frame.tonics
    assert abs(line[-1] - line[-2]) == 1


@given(st.sampled_from(LEVELS_ALONG_THE_SCALE), counts, st.integers(0, 500))
def test_no_move_is_wider_than_the_level_allows(level, numbers, seed):
    _, rows = made(level, numbers, seed)
    line = [index for row in rows for index in row]
    assert all(abs(after - before) <= level.leap for before, after in pairwise(line))


def test_home_is_within_reach_or_it_is_not():
    frame, _ = made(LEVELS[0], [4, 4], 1)
    tonic = frame.tonics[0]
    assert frame.homeward(tonic + 1, 1)
    assert not frame.homeward(tonic, 1)
    assert frame.homeward(tonic + 3, 3)
    assert not frame.homeward(tonic + 4, 3) or len(frame.tonics) > 1
