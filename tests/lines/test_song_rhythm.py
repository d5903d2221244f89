"""The rhythm of songs."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.lines.form import song_form
from game.lines.line_weights import Idiom
from game.lines.rhythms import METERS, RHYTHMS, ticks_of
from game.lines.song_rhythm import SongHabits, song_onsets
from game.music.meter import Meter


def habits(rhythm=3, idiom=Idiom.FOLK, meter=None, bar_again=0.2):
    return SongHabits(rhythm=RHYTHMS[rhythm - 1], idiom=idiom, meter=meter or Meter(), bar_again=bar_again)


@given(st.integers(0, 5000), st.sampled_from(METERS), st.integers(1, 5), st.integers(2, 12))
def test_onsets_rise_through_all_units_and_stay_inside_the_song(seed, meter, rhythm, bars):
    form = song_form(bars, 1.0, Random(seed))
    rows = song_onsets(form, habits(rhythm, Idiom.LEAD, meter), Random(seed))
    flat = [onset for row in rows for onset in row]
    assert flat == sorted(set(flat))
    assert -ticks_of(meter) < flat[0] <= 0
    assert flat[-1] < bars * ticks_of(meter)
    assert all(rows)


def relative(row, unit):
    """The onsets of a unit in its bars, without its pickup."""
    return [onset - 48 * unit.start for onset in row if onset >= 48 * unit.start]


def test_units_alike_begin_alike():
    for seed in range(30):
        form = song_form(8, 9.0, Random(seed))
        rows = song_onsets(form, habits(), Random(seed))
        first = {}
        for unit, row in zip(form, rows, strict=True):
            bar = [onset for onset in relative(row, unit) if onset < 48]
            assert first.setdefault(unit.letter, bar) == bar


@pytest.mark.parametrize(("idiom", "least", "most"), [(Idiom.FOLK, 60, 95), (Idiom.LEAD, 50, 90)])
def test_most_songs_begin_early(idiom, least, most):
    """.82 of folk songs and about half of lead sheets do; of lead sheets some begin with a rest instead."""
    starts = [song_onsets(song_form(8, 1, Random(s)), habits(2, idiom), Random(s))[0][0] for s in range(100)]
    assert least < sum(start < 0 for start in starts) < most


def test_a_song_ends_on_a_note_with_a_beat_to_itself():
    for seed in range(60):
        rows = song_onsets(song_form(8, 1, Random(seed)), habits(), Random(seed))
        assert 8 * 48 - rows[-1][-1] >= 12
        assert rows[-1][-1] % 12 == 0
