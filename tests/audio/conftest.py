"""A mixer that makes no noise, so that sounds can be made."""

from collections.abc import Iterator

import pytest
from pygame import mixer

from game.audio.output import SoundOutput, SoundStatus


@pytest.fixture
def audible() -> Iterator[SoundOutput]:
    """An output that claims to be heard; give the player a channel of `tests.audio.card`."""
    mixer.init(44100, -16, 2, 512)
    yield SoundOutput(rate=44100, audible=True, status=SoundStatus.SOUNDING)
    mixer.quit()
