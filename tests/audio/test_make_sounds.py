"""The click sounds as our script makes them: what can be measured in the files."""

import wave
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest

from game.audio import make_sounds
from game.audio.beats import ClickKind
from game.audio.make_sounds import CLICKS, WoodenClick
from game.paths import shipped
from tests.audio.spectrum import strongest_hz


def loaded(name: str) -> tuple[npt.NDArray[np.float64], int]:
    with wave.open(str(shipped("sounds", f"{name}.wav")), "rb") as file:
        assert (file.getnchannels(), file.getsampwidth()) == (1, 2)
        return np.frombuffer(file.readframes(file.getnframes()), "<i2").astype(np.float64), file.getframerate()


def test_the_script_makes_exactly_the_shipped_files(tmp_path: Path):
    make_sounds.main([str(tmp_path)])
    made = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert made == {path.name: path.read_bytes() for path in shipped("sounds").glob("*.wav")}
    assert set(made) == {f"{sound}{kind.value}.wav" for kind in ClickKind for sound in ("", "bright_")}


@pytest.mark.parametrize("click", CLICKS, ids=lambda click: click.name)
def test_each_click_has_its_pitch(click: WoodenClick):
    samples, rate = loaded(click.name)
    cents = 1200 * np.log2(strongest_hz(samples, rate) / click.frequency_hz)
    assert abs(cents) < 3


@pytest.mark.parametrize("click", CLICKS, ids=lambda click: click.name)
def test_each_click_begins_at_once_without_a_crack_and_ends_in_silence(click: WoodenClick):
    samples, rate = loaded(click.name)
    loud = np.flatnonzero(np.abs(samples) > 0.1 * np.abs(samples).max())
    assert samples[0] == 0
    assert samples[1] != 0
    assert loud[0] / rate < 0.0005, "a tenth of its peak within half a millisecond"
    assert np.abs(samples).argmax() / rate < 0.002
    assert np.abs(np.diff(samples[:6])).max() < 0.05 * 32767, "no bare step"
    assert np.abs(samples[-20:]).max() < 0.001 * 32767


def test_accents_are_higher_and_louder_than_beats_and_these_than_subdivisions():
    peaks = {name: np.abs(loaded(name)[0]).max() for name in ("accent", "beat", "subdivision")}
    pitches = {name: strongest_hz(*loaded(name)) for name in peaks}
    assert peaks["accent"] > peaks["beat"] > peaks["subdivision"]
    assert pitches["accent"] > pitches["beat"] > pitches["subdivision"]
    assert pitches["accent"] < 2000, "below where hearing is keenest"
