import pytest

from game.instrument.listening.difference_function import Estimate
from game.instrument.listening.pitch_track import PitchTrack
from game.instrument.listening.sounding_note import SoundingNote


def test_it_is_told_with_its_power_in_decibels():
    heard = SoundingNote(
        3, 4410, Estimate(64.1, 0.97), 0.001, PitchTrack(64.1, 44_100), strength=0.1, slurred=True
    ).heard(0.1)
    assert (heard.number, heard.started_s, heard.pitch, heard.clarity) == (3, 0.1, 64.1, 0.97)
    assert heard.level_db == pytest.approx(-30)
    assert heard.slurred
    assert heard.sure
