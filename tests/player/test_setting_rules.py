"""Settings that do not agree with one another are put right where they do not, and nowhere else."""

import pytest

from game.player.device_settings import DeviceSettings
from game.player.setting_rules import within_rules
from game.player.settings import Settings
from game.text.catalogue import tell


def mended(**settled):
    settings, faults = within_rules(Settings(**settled))
    return settings, [tell(fault.mended) for fault in faults]


@pytest.mark.parametrize(
    "settled",
    [
        {},
        {"tuning": "38 45 50 55 57 62"},
        {"position": 19, "frets": 22},
        {"choices": {60: (4, 10), 69: (2, 10)}},
        {"tuning": "drop-d", "choices": {38: (6, 0)}},
        {"language": "de"},
        {"devices": {"a": DeviceSettings(channels=(6, 5, 4, 3, 2, 1)), "b": DeviceSettings()}},
    ],
)
def test_settings_that_agree_stay_as_they_are(settled):
    assert mended(**settled) == (Settings(**settled), [])


def test_a_tuning_nobody_knows_is_standard():
    assert mended(tuning="open-sesame") == (Settings(), ['tuning is "standard" instead of "open-sesame"'])


def test_a_position_beyond_the_frets_is_the_last_in_which_all_four_fingers_have_one():
    settings, [told] = mended(position=20, frets=12)
    assert (settings, told) == (Settings(position=9, frets=12), "position is 9 instead of 20")
    settings.neck_map()


def test_homes_that_do_not_sound_their_pitch_are_left_out_and_a_place_has_one_pitch_only():
    settings, told = mended(choices={60: (4, 10), 61: (4, 10), 64: (1, 12)})
    assert settings == Settings(choices={60: (4, 10)})
    assert told == ["choices / 61 is left out ([4, 10])", "choices / 64 is left out ([1, 12])"]


def test_a_home_beyond_the_frets_of_this_neck_is_left_out():
    assert mended(frets=15, choices={80: (1, 16)})[0] == Settings(frets=15)


def test_homes_of_another_tuning_are_left_out_three_of_them_told_and_the_others_counted():
    _, told = mended(tuning="half-step-down", choices={64 + fret: (1, fret) for fret in range(1, 8)})
    assert told[2:] == ["choices / 67 is left out ([1, 3])", "4 more entries of choices are as faulty"]


def test_a_device_with_two_strings_on_a_channel_tells_no_strings_and_keeps_its_delay():
    device = DeviceSettings(channels=(1, 2, 3, 4, 5, 5), constant_ms=8, calibrated=True)
    settings, told = mended(devices={"a guitar": device, "b": DeviceSettings()})
    assert settings.devices == {"a guitar": DeviceSettings(constant_ms=8, calibrated=True), "b": DeviceSettings()}
    assert told == ["devices / a guitar / channels is null instead of [1, 2, 3, 4, 5, 5]"]


def test_a_language_the_catalogue_does_not_have_is_left_to_the_system():
    assert mended(language="tlh") == (Settings(), ['language is "" instead of "tlh"'])
