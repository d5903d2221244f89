"""A device is set up by playing it."""

import pygame

from game.neck.tuning import Place
from game.player.device_settings import DeviceSettings
from game.player.settings_file import load
from game.screens.routes import ToInstruments, ToSetUp
from game.text.catalogue import say
from tests.screens.drawn_text import DrawnText
from tests.screens.plugged_in import NAME, Plugged

OPEN = tuple(Place(string, 0) for string in (6, 5, 4, 3, 2, 1, 6))


def test_six_open_strings_and_a_slide_set_a_guitar_up_and_it_is_kept_by_its_name(table):
    pickup = Plugged(table, channels=(16, 15, 14, 13, 12, 11))
    table.go(ToInstruments())
    table.key(pygame.K_RETURN)
    assert table.screen_name == "SetUpScreen"
    for place in OPEN:
        pickup.pluck(place)
    assert "Slide" in table.screen.words
    pickup.send(0x9F, 69, 80)
    for step in range(1, 11):
        bend = 8192 + 1365 * step // 10
        pickup.send(0xEF, bend & 0x7F, bend >> 7)
    table.wait(1.5)
    assert "channels 11 to 16" in table.screen.words
    kept = load(table.context.session.profile.settings_path).settings.devices[NAME]
    assert (kept.channels, kept.bend_semitones) == ((16, 15, 14, 13, 12, 11), 12)


def test_while_a_string_is_waited_for_it_is_said_that_nothing_is_to_be_pressed(table, monkeypatch):
    drawn = DrawnText(monkeypatch)
    table.go(ToSetUp(NAME))
    assert table.context.window.corner is None
    assert say("set_up.by_itself") in drawn.whole


def test_a_guitar_on_one_channel_is_judged_by_pitch_and_that_is_said(table):
    pickup = Plugged(table, channels=(1,) * 6)
    table.go(ToSetUp(NAME))
    for place in OPEN:
        pickup.pluck(place)
    assert "places are not" in table.screen.words
    assert table.context.settings.devices[NAME].channels is None
    table.open("F4 h, G4 h")
    pickup.pluck(Place(1, 0))
    assert "page.pitch_only" in table.context.window.said_once


def test_what_was_taken_for_a_keyboard_and_is_set_up_by_its_open_strings_is_a_guitar_from_then_on(table):
    table.settle(devices={NAME: DeviceSettings(periods=0.0, keyboard=True)})
    pickup = Plugged(table, channels=(1,) * 6)
    table.go(ToSetUp(NAME))
    for place in OPEN:
        pickup.pluck(place)
    assert table.context.settings.devices[NAME] == DeviceSettings()


def test_a_guitar_tuned_lower_changes_the_tuning_of_the_map(table, pickup):
    table.go(ToSetUp(NAME))
    pickup.send(0x95, 38, 80)
    table.wait(0.3)
    pickup.send(0x85, 38, 0)
    for place in OPEN[1:6]:
        pickup.pluck(place)
    pickup.send(0x95, 38, 80)
    table.wait(0.3)
    table.key(pygame.K_RETURN)
    assert table.context.settings.tuning == "drop-d"


def test_strings_that_contradict_each_other_are_asked_for_again(table, pickup):
    table.go(ToSetUp(NAME))
    for place in (OPEN[0], OPEN[0], *OPEN[2:]):
        pickup.pluck(place)
    table.key(pygame.K_RETURN)
    assert table.screen._trouble
    assert table.screen.set_up.asked == 6
    assert NAME not in table.context.settings.devices


def pluck_raw(table, pickup, strings):
    """Each open string by its channel and its MIDI number."""
    for channel, sounding in strings:
        pickup.send(0x8F + channel, sounding, 80)
        table.wait(0.25)
        pickup.send(0x7F + channel, sounding, 0)
    table.key(pygame.K_RETURN)


# Trade: the open strings from the lowest up.
SEVEN = (35, 40, 45, 50, 55, 59, 64)
SIX = SEVEN[1:]
BASS = (28, 33, 38, 43)


def on_channels(strings, channels):
    return [*zip(channels, strings, strict=True), (channels[0], strings[0])]


def test_seven_strings_are_asked_for_where_the_tuning_has_seven(table, pickup):
    table.context.change_settings(table.context.settings.changed("tuning", "seven-string"))
    table.go(ToSetUp(NAME))
    assert table.screen.set_up.asked == 7
    assert "seventh" in table.screen.words
    pluck_raw(table, pickup, on_channels(SEVEN, (1, 7, 6, 5, 4, 3, 2)))
    assert table.context.settings.devices[NAME].channels == (2, 3, 4, 5, 6, 7, 1)


def test_a_bass_is_set_up_by_saying_that_it_has_four_strings(table, pickup):
    table.go(ToSetUp(NAME))
    table.key(pygame.K_LEFT)
    table.key(pygame.K_LEFT)
    assert table.screen.set_up.asked == 4
    pluck_raw(table, pickup, on_channels(BASS, (4, 3, 2, 1)))
    assert table.context.settings.tuning == "bass"
    assert table.context.settings.devices[NAME].channels == (1, 2, 3, 4)


def test_a_capo_that_was_put_on_is_found_and_the_tuning_stays(table, pickup):
    table.go(ToSetUp(NAME))
    pluck_raw(table, pickup, on_channels([one + 2 for one in (38, *SIX[1:])], (6, 5, 4, 3, 2, 1)))
    assert table.context.settings.tuning == "40 47 52 57 61 66"
    assert table.context.settings.capo == 0
    table.key(pygame.K_BACKSPACE)
    table.context.change_settings(table.context.settings.changed("tuning", "standard"))
    pluck_raw(table, pickup, on_channels([one + 2 for one in SIX], (6, 5, 4, 3, 2, 1)))
    assert (table.context.settings.tuning, table.context.settings.capo) == ("standard", 2)
    assert "a capo at fret II" in table.screen.words


def test_a_capo_that_is_set_and_not_on_is_asked_for(table, pickup):
    table.context.change_settings(table.context.settings.changed("capo", 3))
    table.go(ToSetUp(NAME))
    pluck_raw(table, pickup, on_channels(SIX, (6, 5, 4, 3, 2, 1)))
    assert "without the capo" in table.screen._trouble
    assert table.screen.set_up.asked == 6
    assert NAME not in table.context.settings.devices
    assert table.context.settings.tuning == "standard"
    pluck_raw(table, pickup, on_channels([one + 3 for one in SIX], (6, 5, 4, 3, 2, 1)))
    assert table.context.settings.devices[NAME].channels == (1, 2, 3, 4, 5, 6)
    assert (table.context.settings.tuning, table.context.settings.capo) == ("standard", 3)
