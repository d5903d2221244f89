"""The metronome beside the clock, on cards whose clocks are not ours."""

from itertools import pairwise
from random import Random

import numpy as np
import pygame
import pytest

from game.audio.beats import ClickRow, ClickSettings, clicks_of
from game.audio.metronome import Metronome
from game.audio.output import SoundOutput, SoundStatus
from game.clock import HandClock
from game.music.clicking import ClickSound
from tests.audio.card import RATE, Card
from tests.made import bar

FRAME_S = 1 / 60
NOTICED_S = 0.006
"""The least noticed displacement of a beat (Friberg & Sundberg 1995)."""


def four_four(bars: int, tempo_bpm: float = 120) -> ClickRow:
    return clicks_of([bar("G4 w")] * bars, ClickSettings(tempo_bpm=tempo_bpm))


def started(output: SoundOutput, card: Card, row: ClickRow, *, looping: bool = False) -> Metronome:
    metronome = Metronome(output, output_delay_s=0.0, channel=lambda: card)
    metronome.prepare(row, looping=looping)
    metronome.start(card.clock, pause=card.clock.advance)
    return metronome


def run(metronome: Metronome, clock: HandClock, seconds: float, *, seed: int = 1) -> None:
    """Frames at 60 a second, some of them late."""
    chance = Random(seed)
    until_s = clock.now_s() + seconds
    while clock.now_s() < until_s:
        metronome.tick(clock.now_s())
        clock.advance(FRAME_S * chance.choice([1, 1, 1, 1, 1, 2]) * chance.uniform(0.9, 1.1))


def errors_s(metronome: Metronome, card: Card, row: ClickRow) -> list[float]:
    """By how much each click was heard after it was due by our clock."""
    assert metronome._onset_0_s is not None
    due_s = [metronome._onset_0_s + click.onset_s for click in (*row.count_in, *row.music)]
    heard_s = [card.clock_s(sample) for sample in card.onsets()]
    return [heard - due for heard, due in zip(heard_s, due_s, strict=False)]


def test_the_time_of_onset_0_is_when_the_card_began_plus_lead_in_count_in_and_delay(audible: SoundOutput):
    clock = HandClock(10.0051)
    card = Card(clock)
    metronome = Metronome(audible, output_delay_s=0.02, channel=lambda: card)
    row = four_four(2)
    metronome.prepare(row)
    onset_0_s = metronome.start(clock, pause=clock.advance)
    began_s = card.heard[0][0] / RATE
    assert onset_0_s == pytest.approx(began_s + 0.25 + 2.0 + 0.02, abs=0.0003)


def test_on_a_card_that_keeps_our_time_every_click_is_spaced_to_the_sample(audible: SoundOutput):
    clock = HandClock(3.0)
    card, row = Card(clock), four_four(60, 113)
    metronome = started(audible, card, row)
    run(metronome, clock, 135.0)
    onsets = card.onsets()
    assert len(onsets) == 4 + 240
    lead_s = 0.25
    expected = [round((lead_s + k * 60 / 113) * RATE) - round(lead_s * RATE) for k in range(len(onsets))]
    assert [onset - onsets[0] for onset in onsets] == expected
    assert metronome.status is SoundStatus.SOUNDING
    assert not metronome._player.playing, "it ends with the last bar"


@pytest.mark.parametrize("drift", [100e-6, -100e-6, 300e-6], ids=lambda drift: f"{drift * 1e6:+.0f} ppm")
def test_a_card_that_drifts_is_measured_and_its_clicks_stay_beside_the_clock(audible: SoundOutput, drift: float):
    clock = HandClock(3.0)
    card, row = Card(clock, drift=drift), four_four(150)
    metronome = started(audible, card, row)
    run(metronome, clock, 300.0)
    errors = errors_s(metronome, card, row)
    assert len(errors) > 580
    unaided_s = 300 * abs(drift)
    assert unaided_s > 4 * NOTICED_S
    assert max(abs(error) for error in errors[len(errors) // 3 :]) < NOTICED_S
    assert metronome.drift == pytest.approx(drift, abs=25e-6)


def test_what_a_take_told_of_the_cards_clock_serves_the_next(audible: SoundOutput):
    clock = HandClock(3.0)
    card = Card(clock, drift=300e-6)
    metronome = started(audible, card, four_four(60))
    run(metronome, clock, 130.0)
    card.heard.clear()
    again = four_four(40)
    metronome.prepare(again)
    metronome.start(clock, pause=clock.advance)
    run(metronome, clock, 90.0)
    assert max(abs(error) for error in errors_s(metronome, card, again)) < NOTICED_S


def test_clicks_never_jump_by_more_than_is_noticed_in_one_place(audible: SoundOutput):
    clock = HandClock(3.0)
    card, row = Card(clock, drift=300e-6), four_four(100)
    metronome = started(audible, card, row)
    run(metronome, clock, 200.0)
    steps_s = [after - before for before, after in pairwise(errors_s(metronome, card, row))]
    assert max(abs(step) for step in steps_s) < NOTICED_S


def test_a_card_that_stalled_is_brought_back_within_a_few_blocks(audible: SoundOutput):
    clock = HandClock(3.0)
    card, row = Card(clock), four_four(60)
    metronome = started(audible, card, row)
    run(metronome, clock, 40.0)
    card.stalled_s = 0.05
    run(metronome, clock, 60.0)
    late_s = [error + card.stalled_s for error in errors_s(metronome, card, row)]
    assert abs(late_s[-1]) < NOTICED_S


def test_a_frame_that_comes_very_late_once_moves_no_click(audible: SoundOutput):
    clock = HandClock(3.0)
    card, row = Card(clock), four_four(40)
    metronome = started(audible, card, row)
    run(metronome, clock, 21.0)
    clock.advance(0.4)
    run(metronome, clock, 40.0)
    assert max(abs(error) for error in errors_s(metronome, card, row)) < 0.001


def test_after_a_freeze_longer_than_a_block_the_clicks_go_on_where_the_clock_is(audible: SoundOutput):
    clock = HandClock(3.0)
    card, row = Card(clock), four_four(40)
    metronome = started(audible, card, row)
    run(metronome, clock, 10.0)
    clock.advance(9.3)
    before = len(card.onsets())
    run(metronome, clock, 20.0)
    assert metronome._onset_0_s is not None
    again_s = [card.clock_s(sample) - metronome._onset_0_s for sample in card.onsets()[before:]]
    assert len(again_s) > 30
    assert max(abs(at - round(at * 2) / 2) for at in again_s) < 0.013, "within a buffer of the beat"
    assert card.times_begun == 2, "it ran out of sound once"


def test_a_loop_goes_on_until_it_is_stopped(audible: SoundOutput):
    clock = HandClock(3.0)
    card, row = Card(clock), four_four(2, 151)
    metronome = started(audible, card, row, looping=True)
    run(metronome, clock, 60.0)
    assert not metronome.finished(clock.now_s())
    onsets = card.onsets()
    assert [onset - onsets[0] for onset in onsets] == [
        round((0.25 + k * 60 / 151) * RATE) - 11025 for k in range(len(onsets))
    ]
    metronome.stop()
    assert not metronome._player.playing


def test_a_card_that_takes_nothing_any_more_is_given_up_and_the_beat_stays_visible(audible: SoundOutput):
    clock = HandClock(3.0)
    card, row = Card(clock), four_four(40)
    metronome = started(audible, card, row)
    run(metronome, clock, 10.0)
    card.gone = True
    run(metronome, clock, 5.0)
    assert metronome.status is SoundStatus.LOST
    assert metronome.lost
    assert metronome.beat(clock.now_s()) is not None


def test_a_card_that_is_dead_from_the_start_is_given_up_before_the_count_in(audible: SoundOutput):
    clock = HandClock(3.0)
    card = Card(clock)
    card.card_sample()
    card.gone = True
    metronome = started(audible, card, four_four(1))
    assert metronome.lost
    assert clock.now_s() == pytest.approx(4.0, abs=0.05)


def test_a_card_that_stalls_often_is_not_given_up(audible: SoundOutput):
    clock = HandClock(3.0)
    card, row = Card(clock), four_four(60)
    metronome = started(audible, card, row)
    for _ in range(6):
        run(metronome, clock, 12.0)
        card.stalled_s += 0.3
    run(metronome, clock, 6.0)
    assert not metronome.lost


def test_a_mixer_that_fails_at_the_start_leaves_a_silent_take(audible: SoundOutput):
    def no_channel() -> Card:
        raise pygame.error("mixer not initialized")

    clock = HandClock(3.0)
    metronome = Metronome(audible, channel=no_channel)
    metronome.prepare(four_four(2))
    assert metronome.start(clock) == pytest.approx(3.0 + 0.25 + 2.0), "no output delay where nothing is heard"
    assert metronome.lost


def test_after_a_loss_the_next_take_tries_again(audible: SoundOutput):
    clock = HandClock(3.0)
    card = Card(clock)
    metronome = started(audible, card, four_four(4))
    metronome.device_lost()
    assert metronome.lost
    metronome.prepare(four_four(4))
    metronome.start(clock, pause=clock.advance)
    assert metronome.status is SoundStatus.SOUNDING


def test_a_driver_that_keeps_no_time_is_left_alone_and_said(audible: SoundOutput):
    clock = HandClock(3.0)
    card, row = Card(clock, drift=-0.048), four_four(40)
    metronome = started(audible, card, row)
    run(metronome, clock, 40.0)
    assert metronome.status is SoundStatus.UNSTEADY
    onsets = card.onsets()
    assert [onset - onsets[0] for onset in onsets] == [k * RATE // 2 for k in range(len(onsets))]


def test_mute_keeps_the_volume_for_later(audible: SoundOutput):
    card = Card(HandClock(3.0))
    metronome = started(audible, card, four_four(2))
    metronome.volume = 0.5
    metronome.muted = True
    assert (card.volume, metronome.volume) == (0.0, 0.5)
    metronome.muted = False
    assert card.volume == 0.25


def test_the_steadier_the_player_the_softer_the_click(audible: SoundOutput):
    """By 6 dB at most, half the amplitude, until the next take; mute and volume hold as ever."""
    card = Card(HandClock(3.0))
    metronome = started(audible, card, four_four(2))
    gains = []
    for steadiness in (1.0, 0.5, 0.0):
        metronome.prepare(four_four(2), steadiness=steadiness)
        metronome.start(card.clock, pause=card.clock.advance)
        gains.append(card.volume)
    assert gains == pytest.approx([10 ** (-6 / 20), 10 ** (-3 / 20), 1.0], abs=0.001)


def test_without_sound_the_clock_alone_carries_the_take():
    clock = HandClock(3.0)
    metronome = Metronome(SoundOutput())
    metronome.prepare(four_four(2))
    assert metronome.start(clock) == pytest.approx(3.0 + 0.25 + 2.0)
    clock.advance(2.6)
    shown = metronome.beat(clock.now_s())
    assert shown is not None
    assert shown[0].onset_s == 0.0
    assert metronome.status is SoundStatus.NO_DEVICE
    assert not metronome.finished(clock.now_s())
    clock.advance(4.0)
    assert metronome.finished(clock.now_s())


def test_what_the_click_sounds_like_is_heard_from_the_next_take_on(audible: SoundOutput):
    clock = HandClock(3.0)
    card = Card(clock)
    metronome = Metronome(audible, output_delay_s=0.0, channel=lambda: card)
    lengths = []
    for sound in (ClickSound.WOODEN, ClickSound.BRIGHT, ClickSound.WOODEN):
        metronome.click_sound = sound
        metronome.prepare(four_four(1))
        block, sounds = metronome._player._ready[0]
        samples = pygame.sndarray.array(sounds[0])[:, 0]
        first = block.strikes[0].sample
        lengths.append(int(np.flatnonzero(samples[first : first + RATE // 4]).max()))
    assert lengths[1] < 0.010 * RATE < lengths[0] == lengths[2]
