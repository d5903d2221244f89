"""A microphone for the game on the table: what it hears is set by hand, and what was recorded is made of our own
clicks.
"""

import numpy as np

from game.audio.output import SoundOutput, SoundStatus
from game.audio.sound import Sound
from game.instrument.listening.click_delay import click_onsets_s, measuring_click
from game.instrument.ports.sound_input import RecordedSound, SoundLevel, Tone

RATE = 44100


class FakeMicrophone:
    """What a screen asks a microphone for. `names` are the inputs there are."""

    def __init__(self, table):
        self.names = ("an interface", "a webcam")
        self.level = None
        self.tone = None
        self.trouble = None
        self.asked_to_record_s = []
        self.channels = None
        self._recorded = None
        table.context.devices.microphone = self

    def inputs(self):
        return self.names

    def channels_of(self, name):  # noqa: ARG002 - all are alike here
        return self.channels

    def record(self, seconds):
        self.asked_to_record_s.append(seconds)
        self._recorded = None

    def recorded(self):
        return self._recorded

    def sounds(self, *, rms_db, peak_db=None, hum_db=-90.0, clipped=0):
        self.level = SoundLevel(
            rms_db=rms_db, peak_db=rms_db + 6 if peak_db is None else peak_db, hum_db=hum_db, clipped=clipped
        )

    def rings(self, pitch, clarity=0.97):
        self.tone = None if pitch is None else Tone(pitch=pitch, clarity=clarity)

    def answer(self, table):
        """Wait until the inputs are told."""
        if table.screen._asked is not None:
            table.screen._asked.answer()
        table.wait(0.1)

    def audible(self, table):
        """Let the game sound into nothing, as if somebody heard it."""
        sound = Sound(SoundOutput(rate=RATE, audible=False), table.context.settings.volumes, pause=lambda _: None)
        sound.metronome._player._status = SoundStatus.SOUNDING
        table.context.devices.sound = sound
        table.wait(0.1)

    def hears_back(self, table, delay_s, *, offsets_s=None, gain=0.2):
        """The clicks of the screen under way, so late, with a little noise; none for a gain of 0."""
        began_s = table.screen.delay._began_s
        started_s, onsets_s = began_s - 0.6, click_onsets_s()
        samples = 1e-3 * np.random.default_rng(1).standard_normal(round((onsets_s[-1] + 2.2) * RATE))
        click = measuring_click(RATE)
        for number, onset_s in enumerate(onsets_s):
            late_s = delay_s + (0.0 if offsets_s is None else offsets_s[number])
            at = round((0.6 + onset_s + late_s) * RATE)
            samples[at : at + len(click)] += gain * click
        self._recorded = RecordedSound(started_s=started_s, rate=RATE, samples=samples.astype(np.float32))
