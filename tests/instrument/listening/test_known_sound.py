"""What a microphone hears of our own clicks is taken out, and is no note; a string is left."""

import numpy as np
import pytest

from game.audio.beats import ClickKind
from game.audio.clicks import click_sounds
from game.instrument.listening.heard import Telling
from game.instrument.listening.known_sound import BAND_HZ, KnownSound
from game.instrument.listening.listener import Listener
from game.music.clicking import ClickSound
from tests.instrument.listening.plucked import RATE, line
from tests.instrument.listening.rooms import in_room
from tests.sampling import sample

LONG = [(0.2, 57), (2.2, 62)]
"""Two notes that ring on for two seconds each."""


def clicks(seconds: float, sound: ClickSound, *, rate: int = RATE, every_s: float = 0.25, peak: float = 0.5):
    """All kinds of clicks in turn, the loudest of this peak."""
    waves = click_sounds(rate, sound)
    loudest = max(np.abs(wave).max() for wave in waves.values())
    row = np.zeros(round(seconds * rate))
    for number, at_s in enumerate(np.arange(0.1, seconds - 0.3, every_s)):
        wave = waves[list(ClickKind)[number % len(ClickKind)]] / loudest * peak
        row[round(at_s * rate) :][: len(wave)] += wave
    return row


def echoed(sound):
    """Given back by a wall and a table."""
    out = sound.copy()
    for after_s, left in ((0.023, 0.5), (0.041, -0.4), (0.067, 0.3)):
        later = round(after_s * RATE)
        out[later:] += left * sound[:-later]
    return out


def by_laptop(sound):
    """As a small loudspeaker sounds: little below 500 Hz, driven too far."""
    spectrum = np.fft.rfft(sound)
    hz = np.fft.rfftfreq(len(sound), 1 / RATE)
    thin = np.fft.irfft(spectrum * (hz**2 / (hz**2 + 500.0**2)), len(sound))
    return np.tanh(2 * thin) / 2


def reverberant(sound):
    return in_room(sound, np.random.default_rng(5), wet=0.7)


WAYS = {"straight": lambda sound: sound, "echoed": echoed, "by a laptop": by_laptop, "in a room": reverberant}


def heard(sound, *, known: bool, rate: int = RATE):
    listener, own = Listener(rate), KnownSound(rate)
    told = []
    for first in range(0, len(sound), 512):
        block = np.asarray(sound[first : first + 512], np.float32)
        told += listener.feed(own.take_out(block) if known else block)
    told += listener.finish()
    withdrawn = {one.note.number for one in told if one.telling is Telling.WITHDRAWN}
    last = {one.note.number: one.note for one in told}
    return [(note.started_s, round(note.pitch)) for number, note in last.items() if number not in withdrawn]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("known", [True, False], ids=["taken out", "left in"])
def test_our_clicks_are_no_note_however_loud_they_leak_and_by_whatever_way(way, known):
    assert heard(WAYS[way](clicks(3.0, ClickSound.BRIGHT)), known=known) == []


def test_a_click_with_the_pitch_of_a_note_would_be_one():
    """So the tests above can fail."""
    assert heard(clicks(3.0, ClickSound.WOODEN), known=False)


@pytest.mark.parametrize("kind", ClickKind)
@pytest.mark.parametrize("rate", sample([22_050, 44_100, 48_000, 96_000], by_default=2))
def test_of_a_click_a_seventieth_is_left_at_most(kind, rate):
    own = KnownSound(rate)
    wave = click_sounds(rate, ClickSound.BRIGHT)[kind] / 32767.0
    left = own.take_out(np.concatenate((wave, np.zeros(rate // 10))))
    assert 70 * np.abs(left).max() < np.abs(wave).max()


def test_below_the_band_and_well_above_nothing_is_changed():
    at_s = np.arange(RATE) / RATE
    for hertz, least in ((82.4, 0.99), (659.3, 0.99), (1174.7, 0.97), (4000.0, 0.97)):
        assert BAND_HZ[0] > hertz or hertz > BAND_HZ[1]
        through = KnownSound(RATE).take_out(np.sin(2 * np.pi * hertz * at_s))
        assert np.abs(through[RATE // 2 :]).max() == pytest.approx(1.0, abs=1 - least)


def test_how_the_stream_is_cut_makes_no_difference_and_as_much_comes_out_as_went_in():
    sound, chance = line(LONG).astype(np.float32), np.random.default_rng(3)
    whole, own, parts, at = KnownSound(RATE).take_out(sound), KnownSound(RATE), [], 0
    while at < len(sound):
        length = int(chance.integers(0, 3000))
        parts.append(own.take_out(sound[at : at + length]))
        at += length
    assert np.concatenate(parts) == pytest.approx(whole, abs=1e-6)


def test_what_is_no_number_is_silence_and_does_not_stay():
    own = KnownSound(RATE)
    broken = own.take_out(np.array([np.nan, np.inf, -np.inf, 0.0] * 64, np.float32))
    assert np.isfinite(broken).all()
    own.take_out(np.zeros(RATE // 10, np.float32))
    assert np.abs(own.take_out(np.zeros(512, np.float32))).max() < 1e-4


@pytest.mark.parametrize("way", ["straight", "echoed"])
def test_over_notes_that_ring_a_click_as_loud_as_they_is_taken_for_no_pluck(way):
    strings = line(LONG, tail_s=1.5)
    both = strings + WAYS[way](clicks(len(strings) / RATE, ClickSound.BRIGHT, peak=np.abs(strings).max()))
    assert [pitch for _, pitch in heard(both, known=True)] == [pitch for _, pitch in LONG]


@pytest.mark.parametrize("late_s", [-0.02, 0.0, 0.02])
def test_notes_played_on_a_loud_click_are_heard_at_their_own_time(late_s):
    notes = [(0.1 + 0.5 * number + late_s + 0.5, pitch) for number, pitch in enumerate((57, 60, 60, 53, 64))]
    strings = line(notes)
    loud = clicks(len(strings) / RATE, ClickSound.BRIGHT, peak=np.abs(strings).max(), every_s=0.5)
    found = heard(strings + loud, known=True)
    assert [pitch for _, pitch in found] == [pitch for _, pitch in notes]
    assert [at_s for at_s, _ in found] == pytest.approx([at_s for at_s, _ in notes], abs=0.005)
