"""What a microphone hears while our own strings sound is nobody's answer."""

import pytest

from game.audio.sound import silence
from game.screens.own_strings import RINGING_ON_S, OwnStrings


class _Strings:
    sounding = False


@pytest.fixture
def sound():
    made = silence()
    made.strings = _Strings()
    return made


def test_they_sound_from_the_look_before_they_were_seen_until_a_while_after_they_ended(sound):
    own = OwnStrings()
    for now_s, sounding in ((1.0, False), (1.1, True), (2.0, True), (2.1, False), (9.0, False)):
        sound.strings.sounding = sounding
        own.look(sound, now_s)
    assert [own.sounded_at(at_s) for at_s in (0.99, 1.0, 1.7, 2.1, 2.1 + RINGING_ON_S, 2.2 + RINGING_ON_S, 9.0)] == [
        *[False, True, True, True, True],
        *[False, False],
    ]


def test_while_they_go_on_everything_from_their_beginning_is_theirs(sound):
    own = OwnStrings()
    sound.strings.sounding = True
    own.look(sound, 5.0)
    assert [own.sounded_at(at_s) for at_s in (4.9, 5.0, 500.0)] == [False, True, True]


def test_a_sound_before_is_remembered_while_another_goes_on(sound):
    own = OwnStrings()
    for now_s, sounding in ((1.0, False), (2.0, True), (3.0, False), (4.0, False), (5.0, True)):
        sound.strings.sounding = sounding
        own.look(sound, now_s)
    assert [own.sounded_at(at_s) for at_s in (0.5, 2.5, 3.6, 4.5)] == [False, True, False, True]


def test_with_no_device_nothing_of_ours_sounds():
    own, made = OwnStrings(), silence()
    made.pluck(60)
    own.look(made, 1.0)
    assert not own.sounded_at(1.0)
