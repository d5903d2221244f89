"""What every screen can reach."""

from dataclasses import replace

import msgspec

from game.desk.theme import NIGHT, PAPER
from game.errors import TuneError
from game.music.clicking import ClickSound
from game.player.profiles import Profile
from game.player.session import open_session
from game.player.settings import OPTIONS, InstrumentKind, Look, Settings


def test_settings_that_cannot_be_kept_hold_until_the_end(table, tmp_path):
    session = table.context.session
    session.profile = replace(session.profile, settings_path=tmp_path / "dropped" / "x" / "settings.json")
    (tmp_path / "dropped").write_text("a file is in the way", encoding="utf-8")
    table.context.change_settings(msgspec.structs.replace(Settings(), look=Look.NIGHT))
    assert table.context.settings.look is Look.NIGHT
    assert "could not be kept" in table.context.window.message


def test_a_changed_setting_is_heard_at_once(table):
    sound = table.context.devices.sound
    for changes in ({"volume": 0.2}, {"guitar_volume": 0.1}, {"microphone": "a card"}):
        table.context.change_settings(msgspec.structs.replace(table.context.settings, **changes))
        assert sound.volumes == table.context.settings.volumes
    assert sound.metronome.click_sound is ClickSound.BRIGHT


def test_what_every_screen_asks_for_is_that_of_the_session_and_the_window(table):
    context = table.context
    assert context.clock is context.session.clock
    assert context.settings is context.session.settings
    assert context.sheet is context.window.sheet
    assert context.theme is PAPER
    table.settle(look=Look.NIGHT)
    assert context.theme is NIGHT


def test_another_player_brings_settings_and_the_desk_stays(table, tmp_path):
    context, devices = table.context, table.context.devices
    context.session = open_session(
        Profile(name="Grace", folder=tmp_path / "grace", settings_path=tmp_path / "grace.json"),
        table.clock,
        settings=Settings(look=Look.NIGHT),
    )
    assert context.theme is NIGHT
    assert context.devices is devices


def test_an_ordinary_guitar_is_not_listened_to(table):
    assert table.context.listens
    table.settle(instrument=InstrumentKind.NO_PICKUP)
    assert not table.context.listens


def test_what_the_user_can_mend_is_shown_as_a_sentence_for_a_while(table):
    table.context.say_error(TuneError("screen.tune_step_shelf_any"))
    assert table.context.message_shown
    said = table.context.window.message
    assert said[0].isupper()
    assert said.endswith(".")
    table.clock.advance(8.0)
    assert not table.context.message_shown


def test_settings_that_another_computer_changed_are_named_and_none_are_not_spoken_of(table):
    context = table.context
    context.say_taken_over(())
    assert not context.message_shown
    context.say_taken_over((OPTIONS["look"].name_words, OPTIONS["target_bpm"].name_words))
    assert context.window.message == "Changed on another computer of yours, and now here: “paper” and “signed off at”."
