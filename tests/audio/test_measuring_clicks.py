"""Clicks to be heard back: each at its sample, as loud as is asked, and counted as the metronome's are."""

import numpy as np
import pytest

from game.audio.measuring_clicks import LEAD_IN_S, MeasuringClicks
from game.audio.output import USUAL_DELAY_S, SoundOutput
from game.audio.sound import Sound, silence
from game.clock import HandClock
from game.music.volumes import Volumes
from tests.audio.card import Card

ONSETS_S = (0.0, 0.31, 0.543, 0.93)


def bang(rate):
    """Something that begins at once."""
    return np.full(rate // 200, 0.9, np.float32)


def started(card, clock, output, *, loudness=1.0):
    clicks = MeasuringClicks(output, channel=lambda: card)
    began_s = clicks.start(bang, ONSETS_S, clock, loudness=loudness, pause=clock.advance)
    while clicks.playing:
        clicks.tick(clock.now_s())
        clock.advance(1 / 60)
    return began_s


def test_they_are_heard_when_they_are_said_to_be(audible):
    clock = HandClock(7.0)
    card = Card(clock)
    began_s = started(card, clock, audible)
    heard_s = [card.clock_s(sample) for sample in card.onsets()]
    assert heard_s == pytest.approx([began_s + onset_s for onset_s in ONSETS_S], abs=0.001)


def test_without_an_output_nothing_is_under_way():
    clicks, clock = MeasuringClicks(SoundOutput()), HandClock(3.0)
    assert clicks.start(bang, ONSETS_S, clock, loudness=1.0, pause=clock.advance) == 3.0 + LEAD_IN_S
    assert not clicks.playing
    assert silence().start_measuring(bang, ONSETS_S, clock, share=0.5) == clock.now_s() + LEAD_IN_S


def test_the_delay_that_the_metronome_counts_is_counted_once_and_they_are_never_louder_than_its_click(audible):
    sound, clock = Sound(audible, Volumes(click=0.5, guitar=0.5, accompaniment=0.5)), HandClock(7.0)
    asked = {}

    class Under:
        playing = True

        def start(self, *_, loudness, **__):
            asked["loudness"] = loudness
            return 7.5

        def stop(self):
            asked["stopped"] = True

    sound.measuring = Under()
    assert sound.start_measuring(bang, ONSETS_S, clock, share=0.5) == pytest.approx(7.5 + USUAL_DELAY_S)
    assert asked["loudness"] == pytest.approx(0.5 * 0.6 * 0.25, abs=1e-3)
    sound.set_volumes(Volumes(click=0.0, guitar=0.5, accompaniment=0.5))
    sound.start_measuring(bang, ONSETS_S, clock, share=1.0)
    assert asked["loudness"] == pytest.approx(0.09)
