"""Every setting is declared with its words, its group and its bounds; a change keeps the map on the neck."""

from functools import cache

import msgspec
import pytest
from msgspec.inspect import DataclassType, DictType, FloatType, IntType, StructType, type_info

from game.coach.numbers import NUMBERS
from game.errors import MapError
from game.instrument.decoding.dirt import NO_LIMITS, USUAL_LIMITS
from game.instrument.decoding.strings_setup import CHANNELS, channels_from
from game.lines.levels import LEVELS
from game.music.clicking import ClickSound
from game.neck.tuning import FEWEST_STRINGS
from game.player.device_settings import DeviceSettings, MicrophoneSettings
from game.player.setting_options import ChangedOn, Group
from game.player.settings import HIGHEST_BASE_CHANNEL, OPTIONS, InstrumentKind, Look, Settings
from game.text.catalogue import catalogue_in
from game.text.compile import sentences, sources
from game.text.language import languages
from tests.refusing import refusal

BY_HAND = {
    "position",
    "choices",
    "second",
    "plan_minutes",
    "device",
    "devices",
    "microphone",
    "microphones",
    "pedals",
    "frets",
}


@cache
def sentences_in(language):
    return sentences(sources()[language])


@pytest.mark.parametrize("language", sources())
@pytest.mark.parametrize("option", OPTIONS.values(), ids=OPTIONS)
def test_each_setting_has_a_name_an_explanation_and_words_for_each_value_in_each_language(option, language):
    keys = [option.name_words.key, option.explanation.key, f"settings.group.{option.group.value}"]
    keys += [option.value_words(step).key for step in option.steps]
    assert set(keys) - {"verbatim"} <= set(sentences_in(language))


@pytest.mark.parametrize("option", OPTIONS.values(), ids=OPTIONS)
def test_each_setting_is_changed_on_the_settings_screen_or_says_where(option):
    elsewhere = option.shown.on is not ChangedOn.SETTINGS
    assert elsewhere == (option.name in BY_HAND)
    assert bool(option.steps) != elsewhere


@pytest.mark.parametrize("option", OPTIONS.values(), ids=OPTIONS)
def test_each_step_is_a_value_that_the_file_may_hold(option):
    for step in option.steps:
        settings = msgspec.structs.replace(Settings(), **{option.name: step})
        assert msgspec.convert(msgspec.to_builtins(settings, str_keys=True), Settings, strict=False) == settings


def kinds_within(kind):
    """The kinds of all values inside a struct, a list or a table."""
    yield kind
    inside = [one.type for one in kind.fields] if isinstance(kind, StructType | DataclassType) else []
    inside += [kind.key_type, kind.value_type] if isinstance(kind, DictType) else []
    inside += [*getattr(kind, "item_types", ()), *getattr(kind, "types", ())]
    inside += [kind.item_type] if hasattr(kind, "item_type") else []
    for one in inside:
        yield from kinds_within(one)


def test_every_number_has_two_bounds_and_every_text_an_end():
    kinds = list(kinds_within(type_info(Settings)))
    numbers = [kind for kind in kinds if isinstance(kind, IntType | FloatType)]
    assert len(numbers) > 20
    assert [kind for kind in numbers if kind.ge is None or kind.le is None] == []
    assert [kind for kind in kinds if type(kind).__name__ == "StrType" and kind.max_length is None] == []


def test_the_bounds_are_those_of_what_they_are_for():
    assert list(OPTIONS["line_level"].steps) == [level.number for level in LEVELS]
    plan = OPTIONS["plan_minutes"]
    assert (plan.lowest, plan.highest) == (NUMBERS.plan_fewest, NUMBERS.plan_most)
    assert channels_from(HIGHEST_BASE_CHANNEL, strings=FEWEST_STRINGS)[-1] == CHANNELS


def test_a_level_is_called_as_the_lines_call_it():
    said = [catalogue_in("en").tell(OPTIONS["line_level"].value_words(level.number)) for level in LEVELS]
    assert said == [f"{level.number}, {level.name}" for level in LEVELS]


def test_a_language_is_offered_by_its_own_name_and_the_system_first():
    option = OPTIONS["language"]
    assert option.steps == ("", *languages())
    assert [catalogue_in("en").tell(option.value_words(step)) for step in ("", "de", "en")] == [
        "that of the system", "Deutsch", "English",
    ]  # fmt: skip


def test_volume_is_told_in_tenths_and_ghosts_as_filtered_unless_all_limits_are_open():
    told = catalogue_in("en").tell
    assert told(OPTIONS["volume"].value_words(0.35)) == "4 of 10"
    assert told(OPTIONS["limits"].value_words(NO_LIMITS)) == "count as they come"
    mended = msgspec.structs.replace(Settings(), limits=USUAL_LIMITS).limits
    assert told(OPTIONS["limits"].value_words(mended)) == "are filtered"


def test_a_tuning_of_the_table_has_a_name_and_another_its_notes():
    said = [
        catalogue_in("de").tell(OPTIONS["tuning"].value_words(one)) for one in ("drop-d", "39 45 50 55 57 62", "DADGAD")
    ]
    assert said == ["Drop D", "E♭2 A2 D3 G3 A3 D4", "DADGAD"]


def test_the_groups_follow_one_another():
    assert [group.value for group in Group] == ["appearance", "practice", "guitar"]


def test_another_tuning_takes_the_homes_with_it_that_were_chosen_in_the_one_before():
    chosen = Settings(choices={59: (4, 9)})
    assert chosen.changed("look", Look.NIGHT).choices == {59: (4, 9)}
    assert chosen.changed("tuning", "drop-d") == Settings(tuning="drop-d")


def test_a_change_that_leaves_the_neck_is_refused():
    with refusal(MapError, "position"):
        Settings().changed("position", 0)


def test_a_new_player_finds_the_instruments_set_up_and_nothing_else_changed():
    devices = {"a guitar": DeviceSettings(channels=(1, 2, 3, 4, 5, 6))}
    mine = Settings(look=Look.NIGHT, language="de", device="a guitar", devices=devices, pedals=(20,), base_channel=3)
    assert mine.for_a_new_player() == Settings(device="a guitar", devices=devices, pedals=(20,), base_channel=3)


def test_whoever_chooses_a_microphone_plays_a_guitar_that_is_heard():
    chosen = Settings(instrument=InstrumentKind.NO_PICKUP).changed("microphone", "a card")
    assert (chosen.instrument, chosen.by_microphone) == (InstrumentKind.GUITAR, True)
    assert not chosen.changed("microphone", "").by_microphone


@pytest.mark.parametrize("kind", [InstrumentKind.NO_PICKUP, InstrumentKind.KEYBOARD])
def test_whoever_plays_no_guitar_that_sounds_by_itself_is_not_heard_by_a_microphone(kind):
    other = Settings().changed("microphone", "a card").changed("instrument", kind)
    assert (other.microphone, other.by_microphone) == ("", False)
    assert not Settings(microphone="a card", instrument=kind).by_microphone


def test_a_new_player_finds_the_microphone_set_up():
    microphones = {"a card": MicrophoneSettings(channel=2, delay_ms=14.5, floor_db=-50, headphones=True, set_up=True)}
    mine = Settings(look=Look.NIGHT, microphone="a card", microphones=microphones)
    assert mine.for_a_new_player() == Settings(microphone="a card", microphones=microphones)


def test_where_a_microphone_listens_the_click_is_one_that_is_no_note_with_headphones_too():
    """They leak, and others do not sit close."""
    assert Settings().volumes.click_sound is ClickSound.WOODEN
    heard = Settings(microphone="a card")
    assert heard.volumes.click_sound is ClickSound.BRIGHT
    phones = msgspec.structs.replace(heard, microphones={"a card": MicrophoneSettings(headphones=True)})
    assert phones.volumes.click_sound is ClickSound.BRIGHT


def test_what_the_game_plays_reaches_a_microphone_unless_headphones_were_said_for_this_one():
    phones = {"a card": MicrophoneSettings(headphones=True)}
    assert not Settings(microphones=phones).hears_itself
    assert not Settings(microphone="a card", microphones=phones).hears_itself
    assert Settings(microphone="another", microphones=phones).hears_itself
    assert Settings(microphone="a card").hears_itself
    assert not Settings(microphone="a card", instrument=InstrumentKind.KEYBOARD).hears_itself


def test_behind_a_capo_the_homes_stay_and_fewer_frets_remain():
    """The page is read as it is fingered from the capo (trade)."""
    plain, capo = Settings(), Settings(capo=5)
    assert capo.neck_map().places == plain.neck_map().places
    assert (capo.neck_map().frets, capo.volumes.raised) == (17, 5)
    assert capo.tuning_as_it_sounds.open_strings == (69, 64, 60, 55, 50, 45)


def test_a_keyboard_has_no_capo():
    keyboard = Settings(capo=5, instrument=InstrumentKind.KEYBOARD)
    assert (keyboard.neck_map().frets, keyboard.volumes.raised, keyboard.capo_in_use) == (22, 0, 0)


def test_a_capo_that_leaves_no_room_for_the_position_is_refused():
    with refusal(MapError, "position 12 is not on this neck: choose 1 to 8"):
        Settings(position=12).changed("capo", 11)
