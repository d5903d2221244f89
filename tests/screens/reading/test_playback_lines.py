"""A take as something to be heard."""

import pygame
import pytest

from game.audio.sound import silence
from game.screens.reading.playback_lines import playback_lines
from tests.screens.timed_pages import SOUNDINGS, metronome_page


def test_the_take_just_made_is_played_back_alone_or_beside_the_written_line(table):
    table.context.devices.sound = silence()
    metronome_page(table)
    table.play_in_time(offset_s=0.02, wrong={3})
    table.wait(2.0)
    finished = table.screen.finished
    (alone,) = playback_lines(finished, written=False)
    assert [note.sounding for note in alone.notes] == [53, 55, 59, 58, 60, 58, 57]
    played, written = playback_lines(finished, written=True)
    assert [note.sounding for note in written.notes] == list(SOUNDINGS)
    assert [note.onset_s for note in written.notes][:3] == pytest.approx([0, 0.6, 1.2])
    assert played.pan < 0 < written.pan
    table.key(pygame.K_p, "p")
    table.key(pygame.K_w, "w")
    table.wait(0.2)
    assert table.screen_name == "ResultScreen"
