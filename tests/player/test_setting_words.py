"""What a change of settings says, and what all that was said on several computers comes to."""

import msgspec
import pytest

from game.music.names import NoteNames
from game.player.device_settings import DeviceSettings
from game.player.setting_options import BelongsTo
from game.player.setting_words import PLAYERS, HomesOf, players_part, settings_said, words_between
from game.player.settings import OPTIONS, Look, Settings

# Standard tuning: the open strings sound 64 59 55 50 45 40, so B3 (59) lies on string 3 at fret 4 and on 4 at 9.
B3, C4 = 59, 60


def changed(settings, **changes):
    return msgspec.structs.replace(settings, **changes)


def said(*words, at=None):
    return settings_said(words, at or Settings())


def setting(name, value):
    return {"name": name, "value": value}


def home(sounding, *place):
    return {"name": "choices", "sounding": sounding, "place": list(place) or None}


def test_a_change_says_its_name_and_its_value_as_the_file_has_it():
    after = changed(Settings(), look=Look.NIGHT, target_bpm=96, note_names=NoteNames.GERMAN)
    assert words_between(Settings(), after) == (
        setting("look", "night"),
        setting("note_names", NoteNames.GERMAN.value),
        setting("target_bpm", 96),
    )
    assert words_between(after, after) == ()


def test_what_belongs_to_the_computer_is_not_said_and_not_taken_over():
    """Delays, channels, devices, the size of the music on its screen, the language, the volumes."""
    guitar = DeviceSettings(channels=(11, 12, 13, 14, 15, 16), constant_ms=8.0)
    here = Settings(
        language="de", volume=0.2, staff_space_px=40, base_channel=3, device="a", devices={"a": guitar}, pedals=(1,)
    )
    assert words_between(Settings(), here) == ()
    everything = msgspec.to_builtins(here, str_keys=True)
    assert said(*(setting(name, value) for name, value in everything.items())) == Settings()
    computers = {name for name, option in OPTIONS.items() if option.shown.belongs_to is BelongsTo.COMPUTER}
    assert computers == {
        *("language", "volume", "guitar_volume", "accompaniment_volume", "staff_space_px", "text_size"),
        *("instrument", "base_channel", "limits", "device", "devices", "microphone", "microphones", "pedals"),
    }
    assert computers | set(PLAYERS) == set(OPTIONS)


def test_the_newest_word_holds_and_the_rest_stays_as_it_is():
    here = Settings(volume=0.2, line_level=4)
    assert said(setting("look", "night"), setting("look", "paper"), setting("target_bpm", 90), at=here) == changed(
        here, target_bpm=90
    )


def test_whatever_is_changed_holds_elsewhere_when_its_words_are_heard_there():
    """For each of the player's settings, another value than the first."""
    others = Settings(
        look=Look.NIGHT,
        tuning="drop-d",
        position=7,
        frets=24,
        choices={B3: (4, 9)},
        left_handed=True,
        waits=False,
        plan_minutes=45,
    )
    assert said(*words_between(Settings(), others)) == others
    back = Settings()
    assert said(*words_between(Settings(), others), *words_between(others, back)) == back


def test_two_homes_moved_on_two_computers_both_hold():
    one, other = Settings(choices={B3: (4, 9)}), Settings(choices={C4: (4, 10)})
    both = {B3: (4, 9), C4: (4, 10)}
    assert said(*words_between(Settings(), one), *words_between(Settings(), other)).choices == both
    assert said(*words_between(Settings(), other), *words_between(Settings(), one)).choices == both


def test_of_one_home_the_newest_choice_holds_and_giving_it_up_is_one():
    assert words_between(Settings(choices={B3: (4, 9), C4: (4, 10)}), Settings(choices={C4: (5, 15)})) == (
        home(B3),
        home(C4, 5, 15),
    )
    assert said(home(B3, 4, 9), home(B3, 3, 4)).choices == {B3: (3, 4)}
    assert said(home(B3, 4, 9), home(C4, 4, 10), home(B3)).choices == {C4: (4, 10)}


def test_homes_go_with_the_tuning_they_were_chosen_in():
    """Even those chosen on a computer that did not know of the other tuning, though the place sounds the same."""
    assert said(home(B3, 4, 9), setting("tuning", "drop-d"), home(C4, 4, 10)).choices == {C4: (4, 10)}
    assert said(setting("tuning", "drop-d"), home(B3, 4, 9), setting("tuning", "drop-d")).choices == {B3: (4, 9)}


def test_another_position_gives_up_all_homes_wherever_they_were_chosen():
    moved = words_between(Settings(), Settings(position=7))
    assert said(home(B3, 4, 9), *moved).choices == {}
    cleared = words_between(Settings(choices={B3: (4, 9)}), Settings())
    assert cleared == (setting("choices", {}),)
    assert said(home(C4, 4, 10), *cleared).choices == {}


def test_what_does_not_fit_together_is_put_right_as_in_the_file():
    """A position that the shorter neck has not, a home that sounds another pitch in the tuning that holds."""
    assert said(setting("frets", 12), setting("position", 18)) == Settings(frets=12, position=9)
    assert said(setting("tuning", "drop-d"), home(40, 6, 0)).choices == {}


NONSENSE = [
    setting("look", "sepia"),
    setting("look", None),
    setting("target_bpm", 401),
    setting("target_bpm", 10**30),
    setting("target_bpm", "90"),
    setting("target_bpm", float("nan")),
    setting("tuning", "upside-down"),
    setting("tuning", ["standard"]),
    setting("position", 99),
    setting("choices", {"59": [9, 9]}),
    setting("choices", [[59, 4, 9]]),
    setting("choices", None),
    setting("flavour", "sweet"),
    setting(["look"], "night"),
    {"name": "look"},
    {"value": "night"},
    {},
    {"name": "choices"},
    {"name": "choices", "sounding": "59", "place": [4, 9]},
    {"name": "choices", "sounding": True, "place": [4, 9]},
    {"name": "choices", "sounding": 128, "place": None},
    {"name": "choices", "sounding": 59, "place": [4]},
    {"name": "choices", "sounding": 59, "place": [4, 99]},
    {"name": "choices", "sounding": 59, "place": {"string": 4}},
    {"name": "choices", "sounding": 59, "place": [[[[]]]]},
]


@pytest.mark.parametrize("word", NONSENSE, ids=repr)
def test_what_this_version_does_not_know_is_passed_over_and_what_was_said_before_holds(word):
    before = (setting("look", "night"), setting("target_bpm", 90), setting("position", 7), home(B3, 4, 9))
    assert said(*before, word) == said(*before)
    assert said(*before).choices == {B3: (4, 9)}


def test_the_players_part_is_what_the_file_has_of_it():
    part = players_part(Settings(choices={B3: (4, 9)}, look=Look.NIGHT))
    assert (part["look"], {name: list(place) for name, place in part["choices"].items()}) == ("night", {"59": [4, 9]})
    assert tuple(part) == PLAYERS


def test_a_second_region_is_said_in_any_position_but_its_own():
    """Each word is understood by itself, before the position is known."""
    for position in (1, 5, 7):
        assert said(setting("second", [position, 64]), setting("position", 9)).second == (position, 64)
    assert said(setting("second", [5, 64]), setting("position", 5)).second is None


def test_homes_of_a_map_that_is_not_in_use_are_passed_over():
    """On one computer another map came into use, while on the other a home of the one before was moved."""
    here = words_between(Settings(choices={B3: (4, 9)}), Settings(position=9), HomesOf("nine", anew=True))
    there = words_between(Settings(), Settings(choices={C4: (4, 10)}), HomesOf("five"))
    assert said(*here, *there).choices == {}
    assert said(*there, *here).choices == {}
    own = words_between(Settings(position=9), Settings(position=9, choices={C4: (4, 10)}), HomesOf("nine"))
    assert said(*here, *there, *own).choices == {C4: (4, 10)}
    assert said(*here, home(C4, 4, 10)).choices == {C4: (4, 10)}
