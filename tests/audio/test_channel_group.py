"""Channels that begin together."""

import numpy as np
import pytest
from pygame import mixer

from game.audio.channel_group import ChannelGroup
from game.clock import HandClock
from tests.audio.card import BUFFER, RATE, Card, Overtaken


def sound(samples: int) -> mixer.Sound:
    return mixer.Sound(buffer=np.full((samples, 2), 1000, np.int16))


class Hurried(Card):
    """The card takes a buffer between one call and the next, `stalls` times."""

    stalls = 0

    def queue(self, sound: mixer.Sound) -> None:
        if self.stalls:
            self.stalls -= 1
            self.clock.advance(BUFFER / RATE)
        super().queue(sound)


@pytest.mark.usefixtures("audible")
def test_layers_begin_in_one_buffer_each_at_its_own_loudness():
    clock = HandClock(1.0)
    cards = [Card(clock), Card(clock)]
    group = ChannelGroup(cards, [0.5, 0.2])
    assert group.begin(sound(64), [sound(4000), sound(4000)])
    clock.advance(0.02)
    assert not any(card.get_queue() for card in cards)
    assert [card.heard[-1][0] for card in cards] == [cards[0].heard[0][0] + 64] * 2
    assert [card.volume for card in cards] == [0.5, 0.2]
    group.set_gain(1, 0.0)
    assert [card.volume for card in cards] == [0.5, 0.0]
    group.stop()
    assert not group.busy


@pytest.mark.usefixtures("audible")
def test_where_the_card_came_between_two_calls_nothing_is_played_and_that_is_told():
    clock = HandClock(1.0)
    cards = [Card(clock), Hurried(clock)]
    cards[1].stalls = 1
    group = ChannelGroup(cards, [1.0, 1.0])
    assert not group.begin(sound(64), [sound(4000), sound(4000)])
    assert not any(card.get_busy() for card in cards)
    assert group.begin(sound(64), [sound(4000), sound(4000)])
    assert group.together


@pytest.mark.usefixtures("audible")
def test_a_layer_that_ran_out_while_the_next_was_queued_is_noticed():
    clock = HandClock(1.0)
    cards = [Card(clock), Hurried(clock)]
    group = ChannelGroup(cards, [1.0, 1.0])
    assert group.begin(sound(64), [sound(4000), sound(4000)])
    clock.advance((4000 + 64) / RATE - BUFFER / RATE / 2)
    cards[1].stalls = 1
    group.queue([sound(4000), sound(4000)])
    assert not group.together


@pytest.mark.usefixtures("audible")
@pytest.mark.parametrize("layers", [1, 2])
def test_what_would_wait_for_ever_behind_a_sound_that_is_over_is_noticed(layers: int):
    clock = HandClock(1.0)
    cards = [Overtaken(clock) for _ in range(layers)]
    cards[-1].times = 1
    group = ChannelGroup(cards, [1.0] * layers)
    assert not group.begin(sound(64), [sound(4000)] * layers)
    assert not group.waiting
    assert group.begin(sound(64), [sound(4000)] * layers)
    cards[-1].times = 1
    group.queue([sound(4000)] * layers)
    assert not group.together
