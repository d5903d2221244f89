"""What comes is written into a new file as it comes, and a file that stands there is never touched."""

import numpy as np
import pytest
import soundfile

from game.instrument.ports import sound_keeping
from game.instrument.ports.driver import PortError
from game.instrument.ports.sound_keeping import SoundFileKept
from game.text.catalogue import tell

SOUND = np.sin(np.arange(4800) / 20).astype(np.float32)


@pytest.mark.parametrize(("name", "rate"), [("take.wav", 16_000), ("take.FLAC", 48_000), ("take.wav", 192_000)])
def test_a_recording_reads_back_within_the_last_of_its_24_bits(tmp_path, name, rate):
    kept = SoundFileKept(tmp_path / name, rate)
    for begin in range(0, len(SOUND), 700):
        kept.write(SOUND[begin : begin + 700])
    kept.close()
    samples, found = soundfile.read(tmp_path / name, dtype="float64")
    assert (found, samples.shape) == (rate, SOUND.shape)
    assert np.max(np.abs(samples - SOUND)) <= 2.0**-23


def refused(what):
    with pytest.raises(PortError) as refusal:
        what()
    return tell(refusal.value.message)


def test_a_file_that_is_there_is_refused_and_stays(tmp_path):
    path = tmp_path / "take.wav"
    path.write_bytes(b"dear")
    assert "is there already" in refused(lambda: SoundFileKept(path, 48_000))
    assert path.read_bytes() == b"dear"


def test_a_folder_that_takes_nothing_is_told_with_the_reason(tmp_path):
    assert "cannot be written" in refused(lambda: SoundFileKept(tmp_path / "no" / "take.wav", 48_000))


def test_after_its_longest_time_a_recording_is_whole_and_ends(tmp_path, monkeypatch):
    monkeypatch.setattr(sound_keeping, "LONGEST_S", 0.1)
    kept = SoundFileKept(tmp_path / "take.wav", 16_000)
    assert "no more is recorded" in refused(lambda: kept.write(SOUND))
    assert len(soundfile.read(tmp_path / "take.wav")[0]) == 1600


def test_a_disk_that_is_full_is_told(tmp_path):
    class Full:
        def SoundFile(self, *_words, **_terms):  # noqa: N802 - as soundfile has it
            return self

        def write(self, _samples):
            raise OSError(28, "No space left on device")

    kept = SoundFileKept(tmp_path / "take.wav", 16_000, library=Full())
    assert "No space left on device" in refused(lambda: kept.write(SOUND))
