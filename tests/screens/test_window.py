"""The window shows one sentence for a while."""

from game.screens.window import MESSAGE_S, Window


def test_a_sentence_is_shown_for_seven_seconds():
    window = Window()
    assert not window.message_shown(0.0)
    window.say("A tune is on the shelf.", 100.0)
    assert window.message_shown(100.0)
    assert window.message_shown(99.9 + MESSAGE_S)
    assert not window.message_shown(100.0 + MESSAGE_S)


def test_a_later_sentence_takes_the_place_of_the_one_before():
    window = Window()
    window.say("first", 100.0)
    window.say("second", 105.0)
    assert (window.message, window.message_shown(110.0)) == ("second", True)


def test_no_sentence_is_never_shown():
    window = Window()
    window.say("", 100.0)
    assert not window.message_shown(100.0)
