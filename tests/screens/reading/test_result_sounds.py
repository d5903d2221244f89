"""What can be heard on a result."""

import pygame
import pytest

from game.audio.sound import silence
from tests.screens.reading.test_bass_and_chords_key import result_of
from tests.screens.told_keys import told_keys


@pytest.fixture
def sounded(table, monkeypatch):
    """What sounds on the result of a take, as pairs of lines and accompaniment."""
    result, heard = result_of(table), []
    sound = table.context.devices.sound = silence()
    monkeypatch.setattr(sound, "play", lambda lines, _, accompaniment=None: heard.append((lines, accompaniment)))
    table.go(result)
    return heard


def test_the_take_is_heard_as_it_was_and_the_line_as_it_is_written_with_bass_and_chords(table, sounded):
    finished = table.screen.finished
    table.key(pygame.K_p, "p")
    assert not table.context.session.log.facts.has_heard(finished.passage)
    table.key(pygame.K_w, "w")
    ((played,), alone), ((written,), band) = sounded
    assert [note.sounding for note in played.notes] == [note.sounding for note in finished.played]
    assert [note.sounding for note in written.notes] == [note.sounding for note in finished.passage.notes]
    assert alone is None
    assert band is not None
    assert table.context.session.log.facts.has_heard(finished.passage)


def test_space_lets_the_take_sound_and_ends_what_sounds(table, sounded, monkeypatch):
    table.key(pygame.K_SPACE, " ")
    assert len(sounded) == 1
    stopped = []
    sound = table.context.devices.sound
    monkeypatch.setattr(type(sound.strings), "playing", property(lambda _: True))
    monkeypatch.setattr(sound, "stop", lambda: stopped.append(True))
    table.key(pygame.K_SPACE, " ")
    assert (len(sounded), stopped) == (1, [True])


def test_their_keys_are_told(table, sounded):
    assert sounded == []
    assert {"P", "W", "C"} <= told_keys(table.context.window.told_keys).keys()
