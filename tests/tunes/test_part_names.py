"""Parts without a name go by number."""

import pytest

from game.text.catalogue import tell
from game.tunes.part_names import channel_name, default_name, no_such_part, part_told, parts_listed


@pytest.mark.parametrize("kind", ["part", "track", "voice", "tune"])
def test_a_part_without_a_name_is_told_by_its_number(kind):
    assert tell(part_told(default_name(kind, 3))) == f"{kind} 3"
    assert part_told(default_name(kind, 3)).key == f"part.{kind}"


def test_a_channel_is_told_with_its_track_whatever_that_is_called():
    assert tell(part_told(channel_name("Lead, solo", 10))) == "Lead, solo, channel 10"
    assert [key for key, _ in part_told(channel_name(default_name("track", 2), 1)).values] == ["track", "channel"]
    assert dict(part_told(channel_name(default_name("track", 2), 1)).values)["track"].key == "part.track"


@pytest.mark.parametrize("name", ["Part 2", "part two", "part 2 ", "voice", "tune 1234567", "2"])
def test_a_name_of_its_own_stands_as_it_is(name):
    assert tell(part_told(name)) == name.strip()


def test_twelve_parts_are_listed_and_more_are_counted():
    assert tell(parts_listed(["Flute", "part 2"])) == "1 Flute, 2 part 2"
    assert tell(parts_listed([f"P{number}" for number in range(1, 15)])).endswith("11 P11, 12 P12, and 2 more")


def test_a_number_that_no_part_has_is_answered_with_those_there_are():
    assert tell(no_such_part(["Flute"], 2, "a.mid").message) == (
        "a.mid: has only one part, no part 2; choose one of those"
    )
    assert tell(no_such_part(["Flute", "Bass"], 0, "a.mid").message) == (
        "a.mid: has 2 parts (1 Flute, 2 Bass), no part 0; choose one of those"
    )
