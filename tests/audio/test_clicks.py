"""Clicks at their samples: the shipped sounds, and where each begins."""

from fractions import Fraction
from itertools import islice
from pathlib import Path

import numpy as np
import pytest

from game.audio import clicks
from game.audio.beats import ClickKind, ClickSettings, clicks_of
from game.audio.blocks import render
from game.audio.clicks import click_blocks, click_samples, click_sounds, onset_0_s
from game.audio.make_sounds import CLICKS, RATE
from game.errors import AudioError
from game.music.clicking import ClickSound
from game.music.meter import Meter
from tests.audio.spectrum import strongest_hz
from tests.made import bar
from tests.refusing import refusal


def test_at_another_rate_a_sound_keeps_its_pitch_and_its_onset():
    for click in CLICKS:
        samples = click_sounds(48000)[ClickKind(click.name)].astype(np.float64)
        assert abs(1200 * np.log2(strongest_hz(samples, 48000) / click.frequency_hz)) < 3
        assert samples[0] == 0
        assert samples[1] != 0


def test_both_kinds_of_click_sounds_are_there_for_everything_a_click_marks():
    lengths = [[len(wave) for wave in click_sounds(RATE, sound).values()] for sound in ClickSound]
    assert [len(row) for row in lengths] == [len(ClickKind)] * 2
    assert max(lengths[1]) < min(lengths[0]), "the bright ones are over sooner"


def test_a_sound_that_cannot_be_read_is_named_with_what_to_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(clicks, "shipped", lambda *parts: tmp_path / parts[-1])
    with refusal(AudioError, r"accent\.wav cannot be read .*: install the game again"):
        click_sounds(44100)
    (tmp_path / "accent.wav").write_bytes(b"RIFF, but not for long")
    with refusal(AudioError, r"accent\.wav cannot be read .*: install the game again"):
        click_sounds(44100)


def test_over_two_hundred_bars_and_from_block_to_block_no_click_is_a_sample_off():
    """By the rule of the absolute index: round((lead + k * 60 / bpm) * rate). At 397 no beat is a whole sample."""
    row = clicks_of([bar("G4 h", meter=Meter(2, 4))] * 200, ClickSettings(tempo_bpm=397))
    blocks = list(click_blocks(row, click_sounds(RATE), RATE))
    assert [block.start for block in blocks] == [0] + [block.stop for block in blocks[:-1]]
    stream = np.concatenate([render(block, rate=RATE) for block in blocks])[:, 0]
    loud = np.flatnonzero(stream)
    begun = loud[np.diff(loud, prepend=-201) > 200] - 1
    assert list(begun) == [due(k) for k in range(4 + 400)]
    assert len(stream) == due(404), "it ends with its last bar"


def test_the_thousandth_time_round_a_loop_is_not_a_sample_off():
    row = clicks_of([bar("G4 h.", meter=Meter(3, 4))], ClickSettings(tempo_bpm=397, count_in_bars=0))
    heard = list(islice(click_samples(row, RATE, looping=True), 3000, 3003))
    assert [sample for sample, _ in heard] == [due(k) for k in (3000, 3001, 3002)]
    assert [click.kind for _, click in heard] == [ClickKind.ACCENT, ClickKind.BEAT, ClickKind.BEAT]


def test_a_loop_that_ends_within_a_bar_counts_the_rest_of_it_before_it_begins_again():
    row = clicks_of([bar("G4 q", pickup=True), bar("G4 h")], ClickSettings(tempo_bpm=60.0))
    count_in = len(row.count_in)
    heard = [click.kind.value[0] for _, click in islice(click_samples(row, RATE, looping=True), count_in, count_in + 9)]
    assert "".join(heard) == "babb" + "babb" + "b"


def test_onset_0_lies_after_the_lead_in_and_the_count_in():
    assert onset_0_s(clicks_of([bar("G4 w")], ClickSettings(tempo_bpm=80))) == Fraction(1, 4) + 3
    assert onset_0_s(clicks_of([bar("G4 w")], ClickSettings(tempo_bpm=80, count_in_bars=0))) == Fraction(1, 4)


def due(index: int) -> int:
    return round((Fraction(1, 4) + Fraction(index * 60, 397)) * RATE)
