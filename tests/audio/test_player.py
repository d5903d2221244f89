"""The stream of blocks on a channel: what is kept ready, handed on and let go."""

from collections.abc import Iterator
from functools import partial

import numpy as np
import pygame
import pytest
from pygame import mixer

from game.audio.blocks import Block, Strike, blocks_of
from game.audio.output import SoundOutput, SoundStatus
from game.audio.player import FIRST_BYTES, LOST_AFTER_S, PRIMER_SAMPLES, READY_BYTES, BlockPlayer
from game.clock import HandClock
from tests.audio.card import BUFFER, RATE, Card, Overtaken

BEEP = np.full(2000, 9000, np.int16)
LONGEST_BLOCK_BYTES = round(4.02 * RATE) * 4


def beeps(count: int, apart_s: float = 1.0) -> Iterator[Block]:
    strikes = (Strike(sample=round((0.25 + index * apart_s) * RATE), wave=BEEP) for index in range(count))
    return blocks_of(strikes, rate=RATE)


def started(output: SoundOutput, card: Card, blocks: Iterator[Block]) -> BlockPlayer:
    player = BlockPlayer(output, lambda: card)
    player.prepare(blocks)
    player.start(card.clock, pause=card.clock.advance)
    return player


def run(player: BlockPlayer, clock: HandClock, seconds: float) -> None:
    until_s = clock.now_s() + seconds
    while clock.now_s() < until_s:
        clock.advance(1 / 60)
        player.tick(clock.now_s())


def test_of_a_long_stream_a_minute_and_a_half_is_kept_ready_and_no_more(audible: SoundOutput):
    player = BlockPlayer(audible, lambda: Card(HandClock(1.0)))
    player.prepare(beeps(1000))
    assert READY_BYTES <= player.ready_bytes < READY_BYTES + LONGEST_BLOCK_BYTES
    assert player.ready_bytes / (4 * RATE) == pytest.approx(91, abs=5)


def test_what_is_handed_on_is_rendered_again_behind_it(audible: SoundOutput, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("game.audio.player.READY_BYTES", 1_000_000)
    clock = HandClock(1.0)
    card = Card(clock)
    player = started(audible, card, beeps(40))
    run(player, clock, 20.0)
    assert 1_000_000 - LONGEST_BLOCK_BYTES < player.ready_bytes < 1_000_000 + LONGEST_BLOCK_BYTES
    run(player, clock, 25.0)
    assert [onset - card.onsets()[0] for onset in card.onsets()] == [index * RATE for index in range(40)]
    assert (player.ready_bytes, player.playing) == (0, False)


def test_sample_0_is_when_the_card_took_the_silence_that_goes_first(audible: SoundOutput):
    clock = HandClock(1.0057)
    card = Card(clock)
    player = BlockPlayer(audible, lambda: card)
    player.prepare(beeps(3))
    began_s = player.start(clock, pause=clock.advance)
    primer, first = card.heard[0], card.heard[1]
    assert len(primer[1]) == PRIMER_SAMPLES
    assert not primer[1].any()
    assert began_s == pytest.approx(primer[0] / RATE, abs=0.0003)
    assert primer[0] % BUFFER == 0
    assert first[0] == primer[0] + PRIMER_SAMPLES, "the silence stands in for the first samples of the stream"
    assert card.onsets()[0] == primer[0] + round(0.25 * RATE) - 1


def test_where_nothing_is_heard_the_clock_alone_begins_and_nothing_is_rendered():
    player = BlockPlayer(SoundOutput(), lambda: pytest.fail("no channel is opened"))
    player.prepare(beeps(3))
    assert player.start(HandClock(7.0)) == 7.0
    assert (player.ready_bytes, player.playing, player.status) == (0, False, SoundStatus.NO_DEVICE)


def test_an_empty_stream_is_over_at_once(audible: SoundOutput):
    player = started(audible, Card(HandClock(1.0)), iter(()))
    assert not player.playing
    assert player.status is SoundStatus.SOUNDING


def test_stopping_is_at_once_and_forgets_what_was_ready(audible: SoundOutput):
    clock = HandClock(1.0)
    card = Card(clock)
    player = started(audible, card, beeps(100))
    run(player, clock, 3.0)
    player.stop()
    assert not card.get_busy()
    assert (player.ready_bytes, player.playing, player.status) == (0, False, SoundStatus.SOUNDING)


def test_a_card_is_given_up_a_second_after_its_block_should_have_ended(audible: SoundOutput):
    clock = HandClock(1.0)
    card = Card(clock)
    player = started(audible, card, beeps(100))
    run(player, clock, 4.2)
    card.gone = True
    card.card_sample()
    run(player, clock, LOST_AFTER_S - 0.1)
    assert player.status is SoundStatus.SOUNDING
    run(player, clock, 4.0)
    assert player.status is SoundStatus.LOST
    assert not player.playing


def test_a_stream_that_the_card_overtook_at_its_beginning_is_begun_once_more(audible: SoundOutput):
    clock = HandClock(1.0)
    card = Overtaken(clock, times=3)
    player = started(audible, card, beeps(3))
    run(player, clock, 4.0)
    assert [onset - card.onsets()[0] for onset in card.onsets()] == [0, RATE, 2 * RATE]
    assert player.status is SoundStatus.SOUNDING


def test_a_stream_that_the_card_overtook_later_goes_on_where_the_clock_is(audible: SoundOutput):
    clock = HandClock(1.0)
    card = Overtaken(clock)
    player = started(audible, card, beeps(20))
    run(player, clock, 6.0)
    card.times = 1
    run(player, clock, 16.0)
    assert player.status is SoundStatus.SOUNDING
    begun_again = next(at for at, _ in card.heard if at > 7 * RATE)
    later = [onset for onset in _beep_onsets(card) if onset > begun_again]
    assert len(later) > 8
    due = [card.heard[0][0] + round((0.25 + index) * RATE) for index in range(20)]
    assert all(min(abs(onset - one) for one in due) < 2 * BUFFER for onset in later)


def _beep_onsets(card: Card) -> list[int]:
    """Samples of the card at which a beep begins, of each sound by itself."""
    onsets = list[int]()
    for at, raw in card.heard:
        loud = np.flatnonzero(raw[:, 0])
        onsets += [at + int(sample) for sample in loud[np.diff(loud, prepend=-201) > 200]]
    return onsets


@pytest.mark.parametrize("slow_s", [0.4, 0.9])
def test_a_card_that_takes_its_first_buffer_late_is_waited_for(audible: SoundOutput, slow_s: float):
    """As where a busy computer keeps the card's own thread waiting."""
    clock = HandClock(1.0)
    card = Card(clock)
    card.card_sample()
    card.gone = True

    def pause(seconds: float) -> None:
        clock.advance(seconds)
        if card.gone and clock.now_s() >= 1.0 + slow_s:
            card.gone, card.stalled_s = False, slow_s

    player = BlockPlayer(audible, lambda: card)
    player.prepare(beeps(3))
    assert player.start(clock, pause=pause) >= 1.0 + slow_s
    run(player, clock, 4.0)
    assert [onset - card.onsets()[0] for onset in card.onsets()] == [0, RATE, 2 * RATE]
    assert player.status is SoundStatus.SOUNDING


def test_a_card_that_comes_between_each_time_is_given_up(audible: SoundOutput):
    player = started(audible, Overtaken(HandClock(1.0), times=1000), beeps(3))
    assert player.status is SoundStatus.LOST
    assert not player.playing


def test_a_mixer_that_fails_when_the_volume_is_changed_is_a_loss_and_no_crash(audible: SoundOutput):
    class Failing(Card):
        def set_volume(self, value: float) -> None:
            if self.clock.now_s() > 2.0:
                raise pygame.error("mixer not initialized")
            super().set_volume(value)

    clock = HandClock(1.0)
    player = started(audible, Failing(clock), beeps(10))
    run(player, clock, 1.5)
    player.set_volume(0.3)
    assert player.status is SoundStatus.LOST
    assert not player.playing


def test_a_loss_without_a_device_leaves_the_word_for_it_as_it_is():
    player = BlockPlayer(SoundOutput(status=SoundStatus.SILENT_DRIVER), lambda: pytest.fail("no channel is opened"))
    player.lose()
    assert player.status is SoundStatus.SILENT_DRIVER


def _itself(card: Card) -> Card:
    return card


def layered(output: SoundOutput, cards: list[Card], *, start: bool = True) -> BlockPlayer:
    """Beeps in the first layer, and in the second between them, each of these ringing into the next block."""
    waves = np.resize(BEEP, 2000), np.resize(BEEP, RATE)
    strikes = (
        Strike(sample=round((0.25 + index / 2) * RATE), wave=waves[index % 2], layer=index % 2) for index in range(800)
    )
    player = BlockPlayer(output, *(partial(_itself, card) for card in cards))
    player.prepare(blocks_of(strikes, rate=RATE), layers=2)
    if start:
        player.start(cards[0].clock, pause=cards[0].clock.advance)
    return player


def places(card: Card) -> list[tuple[int, int]]:
    """Where on the card each sound began, and how long it is."""
    return [(at, len(raw)) for at, raw in card.heard]


@pytest.mark.parametrize("drift", [0.0, 300e-6, -300e-6])
def test_layers_stay_together_to_the_sample_on_cards_that_drift_stall_and_wait_for_us(audible: SoundOutput, drift):
    clock = HandClock(1.0)
    cards = [Card(clock, drift=drift), Card(clock, drift=drift)]
    player = layered(audible, cards)
    run(player, clock, 100.0)
    for card in cards:
        card.stalled_s = 0.05
    run(player, clock, 30.0)
    clock.advance(9.3)
    run(player, clock, 30.0)
    assert player.status is SoundStatus.SOUNDING
    assert len(cards[0].heard) > 70
    assert places(cards[0])[:-1] == places(cards[1])[: len(cards[0].heard) - 1]
    assert cards[0].times_begun == cards[1].times_begun == 2


def test_a_layer_that_slipped_by_a_buffer_begins_again_with_the_others(audible: SoundOutput):
    """As where the card takes a buffer just between the queueing of one and of the other."""

    class Late(Card):
        slips = False

        def queue(self, sound: mixer.Sound) -> None:
            if self.slips:
                self.slips, self._playing = False, None
            super().queue(sound)

    clock = HandClock(1.0)
    late_card = Late(clock)
    cards = [Card(clock), late_card]
    player = layered(audible, cards)
    run(player, clock, 20.0)
    late_card.slips = True
    run(player, clock, 20.0)
    late = [place for place in places(cards[0])[:-1] if place[0] > 30 * RATE]
    assert len(late) > 3
    assert set(late) <= set(places(cards[1]))
    assert cards[1].times_begun > 1
    due = [cards[0].heard[0][0] + round((0.25 + index) * RATE) for index in range(50)]
    onsets = [onset for onset in _beep_onsets(cards[0]) if onset > 30 * RATE]
    assert len(onsets) > 8
    assert all(min(abs(onset - one) for one in due) < 2 * BUFFER for onset in onsets), "where the clock is"
    assert player.status is SoundStatus.SOUNDING


def test_the_loudness_of_each_layer_is_its_own(audible: SoundOutput):
    clock = HandClock(1.0)
    cards = [Card(clock), Card(clock)]
    player = layered(audible, cards)
    player.set_volume(0.5, layer=1)
    assert [card.volume for card in cards] == [1.0, 0.25]
    player.set_volume(0.0)
    assert [card.volume for card in cards] == [0.0, 0.25]


def test_of_several_layers_the_beginning_is_rendered_at_once_and_the_rest_while_the_page_waits(audible: SoundOutput):
    clock = HandClock(1.0)
    cards = [Card(clock), Card(clock)]
    player = layered(audible, cards, start=False)
    assert FIRST_BYTES <= player.ready_bytes < FIRST_BYTES + 2 * LONGEST_BLOCK_BYTES
    before = player.ready_bytes
    player.tick(clock.now_s())
    assert before < player.ready_bytes <= before + 2 * LONGEST_BLOCK_BYTES, "a block a frame"
    run(player, clock, 2.0)
    assert READY_BYTES <= player.ready_bytes < READY_BYTES + 2 * LONGEST_BLOCK_BYTES
    player.stop()
    run(player, clock, 1.0)
    assert player.ready_bytes == 0
