"""A take as something to be heard."""

from dataclasses import replace

import pytest

from game.audio.sound import silence
from game.screens.reading.playback_lines import played_back, tempo_played, written_line
from tests.sampling import sample
from tests.screens.timed_pages import SOUNDINGS, metronome_page


@pytest.fixture
def finished(table):
    """A take whose third note was wrong and that was late throughout."""
    table.context.devices.sound = silence()
    metronome_page(table)
    table.play_in_time(offset_s=0.02, wrong={3})
    table.wait(2.0)
    return table.screen.finished


def test_the_take_just_made_is_played_back_as_it_was(finished):
    assert [note.sounding for note in played_back(finished).notes] == [53, 55, 59, 58, 60, 58, 57]


def test_written_notes_come_at_the_tempo_they_are_given(finished):
    line = written_line([expected.note for expected in finished.expected], quarter_bpm=100)
    assert [note.sounding for note in line.notes] == list(SOUNDINGS)
    assert [note.onset_s for note in line.notes][:3] == pytest.approx([0, 0.6, 1.2])


@pytest.mark.parametrize(("own", "heard"), sample([(80, 80), (12, 40), (900, 200), (None, None)], by_default=1))
def test_the_tempo_of_a_take_is_that_of_its_click_or_the_players_own_within_reason(finished, own, heard):
    assert tempo_played(finished) == 100
    assert tempo_played(replace(finished, tempo_bpm=None, usual_bpm=own)) == heard
