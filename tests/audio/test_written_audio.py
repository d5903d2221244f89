"""The metronome as it is heard: every sample of what SDL was given, from a process of its own."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

import numpy as np
import pytest

from game.audio.bass_and_chords import AccompanimentSounds, accompaniment_strikes
from game.audio.beats import ClickKind
from game.audio.blocks import Block, Strike, render
from game.audio.clicks import click_sounds
from tests.audio.sounded import DiskPlayer, Sounded, _row, accompaniment
from tests.sampling import how_many

pytestmark = pytest.mark.in_time

RATE = 44100
LEAD_IN = 11025
"""A quarter of a second."""

FOUR = ["G4 w", [4, 4], False]
BUFFER = 512


@pytest.fixture(scope="module")
def disk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[DiskPlayer]:
    with DiskPlayer(tmp_path_factory.mktemp("sounded")) as player:
        yield player


def due(quarters: Fraction | float, quarter_bpm: int) -> int:
    """Samples from the first click, by the rule: round((lead + k * 60 / bpm) * rate)."""
    return round((Fraction(1, 4) + Fraction(quarters) * 60 / quarter_bpm) * RATE) - LEAD_IN


def from_first(heard: Sounded) -> list[int]:
    onsets = heard.onsets()
    return [onset - onsets[0] for onset in onsets]


def kinds(heard: Sounded) -> str:
    """The kind of each click, told by comparing it with the shipped sounds sample by sample."""
    sounds = click_sounds(RATE)
    named = ""
    for onset in heard.onsets():
        row = heard.samples[onset : onset + 2000, 0]
        named += next((kind.value[0] for kind in ClickKind if np.array_equal(sounds[kind][:2000], row)), "?")
    return named


def test_over_two_hundred_bars_the_spacing_error_is_no_sample(disk: DiskPlayer):
    """By default over forty; `tests.audio.test_clicks` renders two hundred without a card."""
    bars = how_many(200, by_default=40)
    heard = disk.sounded({"bars": [["G4 h", [2, 4], False, bars]], "settings": {"tempo_bpm": 397}})
    assert from_first(heard) == [due(beat, 397) for beat in range(4 + 2 * bars)]
    assert (heard.onsets()[0] - LEAD_IN) % BUFFER == 0, "the stream begins with a buffer of the card"
    assert not np.any(heard.samples[:, 0] != heard.samples[:, 1]), "both sides are alike"


def test_a_looped_passage_goes_round_without_a_gap(disk: DiskPlayer):
    """Three quarters at 397 are 19,990.93 samples: no whole number."""
    heard = disk.sounded(
        {
            "bars": [["G4 h.", [3, 4], False, 1]],
            "settings": {"tempo_bpm": 397},
            "looping": True,
            "stages": [["end", 10.0]],
            "until": "stages",
        }
    )
    onsets = from_first(heard)
    assert len(onsets) > 60
    assert onsets == [due(beat, 397) for beat in range(len(onsets))]
    assert kinds(heard)[:-1] == ("abb" * len(onsets))[: len(onsets) - 1]


def test_accents_fall_on_the_bars_and_a_pickup_comes_in_at_its_beat(disk: DiskPlayer):
    heard = disk.sounded({"bars": [["G4 q", [4, 4], True, 1], [*FOUR, 2]], "settings": {"tempo_bpm": 300}})
    assert kinds(heard) == "abbb" + "abbb" + "abbb" + "abbb"
    assert from_first(heard) == [due(beat, 300) for beat in range(16)]


def test_changing_and_compound_metres_are_heard_where_they_stand(disk: DiskPlayer):
    bars = [["G4 h.", [6, 8], False, 1], ["G4 h.", [3, 4], False, 1], ["G4 h.", [6, 8], False, 1]]
    heard = disk.sounded({"bars": bars, "settings": {"tempo_bpm": 160, "count_in_bars": 1}})
    assert kinds(heard) == "ab" + "ab" + "abb" + "ab"
    quarters = [0, 1.5, 3, 4.5, 6, 7, 8, 9, 10.5]
    assert from_first(heard) == [due(at, 240) for at in quarters]


def test_two_and_four_subdivisions_and_swing_are_heard(disk: DiskPlayer):
    back_beats = disk.sounded({"bars": [[*FOUR, 2]], "settings": {"tempo_bpm": 300, "clicking": "2 and 4"}})
    assert from_first(back_beats) == [due(beat, 300) for beat in (0, 1, 2, 3, 5, 7, 9, 11)]
    swung = disk.sounded(
        {"bars": [["G4 h", [2, 4], False, 1]], "settings": {"tempo_bpm": 59, "swing": 1.5, "count_in_bars": 1}}
    )
    assert kinds(swung) == "asbs" * 2
    assert from_first(swung) == [due(Fraction(at), 59) for at in ("0", "3/5", "1", "8/5", "2", "13/5", "3", "18/5")]


def test_a_take_longer_than_what_is_kept_ready_is_rendered_as_it_goes(disk: DiskPlayer):
    """One megabyte is less than 6 s of the 16; what the program keeps is held in `tests.audio.test_player`."""
    take = {
        "bars": [[*FOUR, 3]],
        "settings": {"tempo_bpm": 60, "subdivisions": False},
        "ready_bytes": 1_000_000,
    }
    heard = disk.sounded(take)
    assert from_first(heard) == [due(beat, 60) for beat in range(16)]
    assert heard.report["most_bytes"] < 1_750_000


ACCOMPANIED = {
    "bars": [[*FOUR, 8]],
    "chords": ["Dm7", "G7", "Cmaj7", "A7b9", "Dm7", "G13", "C6", "C6"],
    "settings": {"tempo_bpm": 173, "swing": 1.6},
}


def expected(take: dict[str, Any], layer: int) -> np.ndarray:
    """A layer of a take in one piece, each strike put in its place by the rule of the absolute index."""
    row, sounds, band = _row(take), click_sounds(RATE), AccompanimentSounds(RATE)
    notes = accompaniment(take)
    if layer:
        strikes = list(accompaniment_strikes(notes, band, lambda at: LEAD_IN + due(at - row.start_quarters, 173)))
    else:
        clicks = (*row.count_in, *row.music)
        strikes = [
            Strike(sample=LEAD_IN + due(click.onset_quarters - row.start_quarters, 173), wave=sounds[click.kind])
            for click in clicks
        ]
    layered = tuple(replace(strike, layer=0) for strike in strikes)
    return render(Block(start=0, stop=13 * RATE, strikes=layered), rate=RATE).astype(int)


def test_bass_and_chords_are_written_beside_the_click_without_a_sample_between_them(disk: DiskPlayer):
    """Every sample is the sum of what each would be alone, from block to block."""
    heard = disk.sounded(ACCOMPANIED).samples.astype(int)
    clicks, band = expected(ACCOMPANIED, 0), expected(ACCOMPANIED, 1)
    start = next(at for at in range(0, len(heard), BUFFER) if heard[at : at + LEAD_IN + 2 * BUFFER].any()) + BUFFER
    starts = (at for at in range(max(0, start - 4 * BUFFER), start + LEAD_IN, BUFFER))
    sums = clicks + band
    begun = next(at for at in starts if np.array_equal(heard[at : at + 2 * RATE], sums[: 2 * RATE]))
    sounding = int(np.flatnonzero(sums[:, 0])[-1])
    assert sounding > 12 * RATE
    assert np.array_equal(heard[begun : begun + sounding], sums[:sounding])
    assert np.abs(band).max() > 500


def test_the_click_is_muted_alone_and_so_is_the_accompaniment(disk: DiskPlayer):
    stages = [["mute", 3.5], ["mute the accompaniment", 3.0], ["end", 1.5]]
    take = {**ACCOMPANIED, "looping": True, "stages": stages, "until": "stages"}
    heard = np.abs(disk.sounded(take).samples[:, 0].astype(int))
    last_click = np.flatnonzero(heard > 0.1 * 32767)[-1]
    assert last_click < len(heard) - 3 * RATE, "no click any more"
    assert heard[last_click + RATE : last_click + 2 * RATE].max() > 300, "bass and chords go on"
    assert not heard[-RATE // 2 :].any()


def test_half_volume_and_mute_are_heard_at_once_and_the_beat_goes_on(disk: DiskPlayer):
    take = {
        "bars": [[*FOUR, 1]],
        "settings": {"tempo_bpm": 240},
        "looping": True,
        "stages": [["halve", 2.0], ["mute", 2.0], ["end", 2.0]],
        "until": "stages",
    }
    heard = disk.sounded(take)
    loudest = [int(np.abs(heard.samples[onset : onset + 2000]).max()) for onset in heard.onsets()]
    assert loudest[0] == 26214, "the accent at full volume"
    halved = [peak for peak in loudest if peak == pytest.approx(19660 / 4, rel=0.02)]
    assert len(halved) >= 4, "half the volume is a quarter of the amplitude"
    assert not heard.samples[-RATE:].any(), "muted clicks are not heard"
    assert heard.report["beat_goes_on"]


def test_stopping_leaves_nothing_to_be_heard(disk: DiskPlayer):
    take = {
        "bars": [[*FOUR, 40]],
        "settings": {"tempo_bpm": 240},
        "stages": [["stop", 3.0], ["end", 2.0]],
        "until": "stages",
    }
    heard = disk.sounded(take)
    assert 4 < len(heard.onsets()) < 60
    assert not heard.samples[-RATE:].any()
    assert not heard.report["beat_goes_on"]


def test_a_device_that_goes_away_in_mid_take_leaves_it_silent_and_says_so(disk: DiskPlayer):
    """SDL's disk driver reports its device as removed when it can write no more: /dev/full takes nothing."""
    take = {"bars": [[*FOUR, 4]], "settings": {"tempo_bpm": 120}, "until": "lost"}
    heard = disk.sounded(take, target="/dev/full")
    assert heard.report["lost"]
    assert heard.report["status"] == "lost"


def test_a_mixer_closed_under_the_take_is_no_crash(disk: DiskPlayer):
    take = {"bars": [[*FOUR, 40]], "settings": {"tempo_bpm": 120}, "stages": [["quit", 3.0]], "until": "lost"}
    heard = disk.sounded(take)
    assert heard.report["lost"]
    assert heard.report["beat_goes_on"]


def test_without_a_sound_device_the_take_goes_on_and_says_why_it_is_silent(disk: DiskPlayer):
    """SDL is asked for a driver that this machine cannot have."""
    take = {"bars": [[*FOUR, 1]], "settings": {"tempo_bpm": 120}, "until": "beat"}
    heard = disk.sounded(take, driver="no such driver")
    assert not heard.report["audible"]
    assert heard.report["status"] == "no_device"
    assert heard.report["beat_goes_on"]


def test_an_explicit_silent_driver_is_obeyed_and_said(disk: DiskPlayer):
    take = {"bars": [[*FOUR, 1]], "settings": {"tempo_bpm": 120}, "until": "beat"}
    heard = disk.sounded(take, driver="dummy")
    assert heard.report["status"] == "silent_driver"
