"""How an instrument reports follows from the settings: as it was set up, else as the player said for any."""

import msgspec
import pytest

from game.instrument.decoding.delay import Delay
from game.instrument.decoding.instrument_state import KeyboardSetup
from game.instrument.decoding.pitches import PitchesSetup
from game.instrument.decoding.strings_setup import StringsSetup
from game.instrument.ports.sound_input import SoundTerms
from game.instrument.sources.note_sources import PlayedOn
from game.neck.tuning import Place
from game.player.device_settings import DeviceSettings, MicrophoneSettings
from game.player.instrument_setup import channels_of_others, setup_for, sound_terms, too_low_to_hear, used_by
from game.player.settings import InstrumentKind, Settings
from game.practice_log.rows.log_records import InstrumentUsed
from game.text.catalogue import tell

LOW_FIRST = (6, 5, 4, 3, 2, 1)
SETTINGS = Settings(
    base_channel=7,
    tuning="drop-d",
    frets=19,
    devices={
        "with strings": DeviceSettings(channels=LOW_FIRST, bend_semitones=12, constant_ms=4, periods=3),
        "without": DeviceSettings(constant_ms=9, bend_semitones=48),
    },
)


def test_a_guitar_nobody_has_set_up_reports_from_the_base_channel_on():
    setup = setup_for(SETTINGS, "another")
    assert isinstance(setup, StringsSetup)
    assert setup.channels == (7, 8, 9, 10, 11, 12)
    assert (setup.tuning.name, setup.frets, setup.bend_semitones) == ("drop-d", 19, 2.0)
    assert setup.assumed


def test_one_that_was_set_up_reports_as_it_was_found():
    setup = setup_for(SETTINGS, "with strings")
    assert isinstance(setup, StringsSetup)
    assert (setup.channels, setup.bend_semitones) == (LOW_FIRST, 12)
    assert not setup.assumed
    assert (setup.delay.constant_s, setup.delay.periods) == (0.004, 3)


def test_one_that_does_not_report_strings_gives_pitches_only():
    setup = setup_for(SETTINGS, "without")
    assert isinstance(setup, PitchesSetup)
    assert (setup.delay.constant_s, setup.bend_semitones) == (0.009, 48)


def test_a_keyboard_that_was_known_by_its_channel_has_no_dirt_to_be_told_apart():
    kept = Settings(devices={"keys": DeviceSettings(periods=0.0, keyboard=True)})
    assert setup_for(kept, "keys") == KeyboardSetup(Delay(periods=0.0))
    assert isinstance(setup_for(kept, "another"), StringsSetup)


@pytest.mark.parametrize("device", ["with strings", "without", "another"])
def test_whoever_plays_a_keyboard_has_no_strings_at_all(device):
    assert setup_for(Settings(instrument=InstrumentKind.KEYBOARD), device) == KeyboardSetup()


def test_strings_of_another_tuning_are_counted_from_the_base_channel_on():
    setup = setup_for(Settings(tuning="seven-string", base_channel=2), "another")
    assert isinstance(setup, StringsSetup)
    assert setup.channels == (2, 3, 4, 5, 6, 7, 8)
    assert setup.placed(8, 35) == (Place(7, 0), None)


def test_a_seventh_string_may_have_the_channel_below_the_others():
    pickup = DeviceSettings(channels=(2, 3, 4, 5, 6, 7, 1))
    setup = setup_for(Settings(tuning="seven-string", devices={"pickup": pickup}), "pickup")
    assert isinstance(setup, StringsSetup)
    assert setup.placed(1, 40) == (Place(7, 5), None)


@pytest.mark.parametrize("tuning", ["seven-string", "bass", "bass-five"])
def test_a_device_set_up_for_another_number_of_strings_gives_pitches_only_and_why_is_told(tuning):
    settings = msgspec.structs.replace(SETTINGS, tuning=tuning)
    setup = setup_for(settings, "with strings")
    assert isinstance(setup, PitchesSetup)
    assert (setup.delay.constant_s, setup.bend_semitones) == (0.004, 12)
    why = channels_of_others(settings, "with strings")
    assert why is not None
    assert "set up for 6 strings" in tell(why)
    assert channels_of_others(settings, "without") is None
    assert channels_of_others(SETTINGS, "with strings") is None


def test_strings_that_run_past_the_last_channel_are_not_taken_for_others():
    settings = Settings(tuning="seven-string", base_channel=11)
    assert isinstance(setup_for(settings, "another"), PitchesSetup)
    why = channels_of_others(settings, "another")
    assert why is not None
    assert "past channel 16" in tell(why)
    keyboard = msgspec.structs.replace(settings, instrument=InstrumentKind.KEYBOARD)
    assert channels_of_others(keyboard, "another") is None


def test_a_guitar_is_heard_as_its_input_was_set_up():
    card = MicrophoneSettings(channel=2, delay_ms=14.5, floor_db=-50)
    settings = Settings(microphone="a card", microphones={"a card": card})
    expected = SoundTerms(name="a card", channel=2, delay_s=0.0145, floor_db=-50, own_clicks=True)
    assert sound_terms(settings) == expected
    assert sound_terms(Settings(microphone="another")) == SoundTerms(name="another", own_clicks=True)


def test_our_own_clicks_are_taken_out_of_what_is_heard_unless_headphones_were_said():
    phones = {"a card": MicrophoneSettings(headphones=True)}
    heard = sound_terms(Settings(microphone="a card")), sound_terms(Settings(microphone="a card", microphones=phones))
    assert [terms.own_clicks for terms in heard if terms is not None] == [True, False]


def test_nothing_is_listened_to_before_an_input_was_chosen():
    assert sound_terms(Settings()) is None
    assert sound_terms(Settings(microphone="a card", instrument=InstrumentKind.NO_PICKUP)) is None


def test_what_is_played_on_is_known_before_a_note_where_the_player_said_so():
    assert used_by(Settings()) is None
    assert used_by(Settings(microphone="a card")) == InstrumentUsed(name="a card", kind=PlayedOn.HEARD)
    unheard = used_by(Settings(instrument=InstrumentKind.NO_PICKUP))
    assert unheard == InstrumentUsed(name="", kind=PlayedOn.NO_PICKUP)


def test_a_microphone_listens_as_low_as_the_strings_behind_the_capo_are():
    settings = Settings(microphone="a card", tuning="drop-d")
    assert sound_terms(settings).lowest_string == 38
    assert sound_terms(msgspec.structs.replace(settings, capo=3)).lowest_string == 41


@pytest.mark.parametrize(
    ("tuning", "capo", "is_told"),
    [
        ("bass", 0, True),
        ("bass", 11, False),
        ("seven-string", 0, True),
        ("seven-string", 3, False),
        ("drop-d", 0, False),
    ],
)
def test_that_a_bass_is_too_low_for_a_microphone_is_told(tuning, capo, is_told):
    settings = Settings(microphone="a card", tuning=tuning, capo=capo)
    assert (too_low_to_hear(settings) is not None) == is_told
    assert too_low_to_hear(Settings(tuning=tuning)) is None
