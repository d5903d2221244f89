"""What the process that listens does with a block, without a process."""

import queue
from io import BytesIO
from types import SimpleNamespace

import numpy as np
import pytest

from game.audio.beats import ClickKind
from game.audio.clicks import click_sounds
from game.instrument.ports.sound_child import HeardInput
from game.instrument.ports.sound_input import SoundTerms
from game.instrument.ports.sound_wire import ListenTo
from game.music.clicking import ClickSound

RATE = 44_100


@pytest.fixture
def listened_to(monkeypatch):
    """What of a stream is listened to for notes."""
    parts = []

    class Ear:
        def __init__(self, *_: object, **__: object) -> None:
            pass

        def feed(self, samples):
            parts.append(samples)
            return ()

    monkeypatch.setattr("game.instrument.ports.sound_child.Listener", Ear)

    def of(sound, *, own_clicks):
        parts.clear()
        opened = SimpleNamespace(rate=RATE, name="a card", blocks=queue.SimpleQueue(), alive=True)
        listening = HeardInput(opened, ListenTo(SoundTerms(name="a card", own_clicks=own_clicks)), BytesIO())
        for first in range(0, len(sound), 512):
            opened.blocks.put((first / RATE, sound[first : first + 512], False))
            listening.hear_next()
        return np.concatenate(parts)

    return of


def test_our_own_clicks_are_taken_out_where_they_reach_the_input_and_nowhere_else(listened_to):
    click = (click_sounds(RATE, ClickSound.BRIGHT)[ClickKind.ACCENT] / 32767.0).astype(np.float32)
    sound = np.zeros(RATE // 2, np.float32)
    for at in (700, 9000, 15_000):
        sound[at : at + len(click)] += click
    assert np.array_equal(listened_to(sound, own_clicks=False), sound)
    left = listened_to(sound, own_clicks=True)
    assert len(left) == len(sound)
    assert np.abs(left).max() < 0.015
