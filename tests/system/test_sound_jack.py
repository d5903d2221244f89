"""A guitar that another program plays through JACK is heard: the way from sound to notes, with the real library.

The server waits for each of its programs, so no sound is lost however busy the computer is; only times grow longer.
"""

import numpy as np
import pytest
import soundfile

from tests.instrument.listening.plucked import line
from tests.system.devices_watch import devices_watch
from tests.system.sound_line import INPUT, sound_line
from tests.system.waiting import wait_until

pytestmark = pytest.mark.system

RATE = 48_000
PITCHES = (45, 52, 60, 64, 57, 48)
PLAYED = line([(0.4 + 0.3 * number, pitch) for number, pitch in enumerate(PITCHES)], rate=RATE)


def test_a_line_of_plucked_strings_arrives_note_by_note_and_is_kept_as_it_came(jack, tmp_path):
    kept = tmp_path / "take.flac"
    with (
        sound_line(jack, PLAYED, RATE, tmp_path) as player,
        devices_watch(jack, "--json", "--input", INPUT, "--record", str(kept)) as watch,
    ):
        answer = heard_in_json(watch, player, kept)
    assert [note["sounding"] for note in answer["heard"] if not note["withdrawn"]] == list(PITCHES)
    assert max(abs(note["cents"]) for note in answer["heard"]) <= 25
    assert [change["change"] for change in answer["changes"]] == ["found"]
    sound, rate = soundfile.read(kept, dtype="float32")
    assert rate == RATE
    at = int(np.flatnonzero(sound)[0] - np.flatnonzero(np.abs(PLAYED) >= 2.0**-23)[0])
    assert np.max(np.abs(sound[at : at + len(PLAYED)] - PLAYED)) < 1e-6


def heard_in_json(watch, player, kept):
    """Play once the file is there, for then the input is open; what the watch answers."""
    wait_until(kept.exists, "the recording")
    player.play()
    return watch.answered()
