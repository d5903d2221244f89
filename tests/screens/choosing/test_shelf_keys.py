"""The keys of the shelf as they are told."""

from game.screens.choosing.shelf_keys import shelf_hints
from tests.screens.told_keys import told_keys


def test_escape_ends_a_search_before_it_leads_back():
    means = [told_keys(shelf_hints(typing=False, searched=searched))["Esc"] for searched in (False, True)]
    assert means == ["today", "all"]


def test_while_a_search_is_typed_letters_are_words():
    assert not any(len(key) == 1 and key.isalpha() for key in told_keys(shelf_hints(typing=True, searched=False)))


def test_while_files_are_read_escape_ends_that_first():
    assert told_keys(shelf_hints(typing=False, searched=False, reading=True))["Esc"] == "stop reading"
    assert told_keys(shelf_hints(typing=False, searched=True, reading=True))["Esc"] == "all"


def test_what_is_asked_about_a_file_can_be_left_unanswered():
    assert told_keys(shelf_hints(typing=False, searched=False, asked=True))["Esc"] == "no part"
    assert told_keys(shelf_hints(typing=False, searched=False, reading=True, asked=True))["Esc"] == "stop reading"


def test_what_was_not_read_has_a_key_only_where_there_is_something():
    assert told_keys(shelf_hints(typing=False, searched=False, refused=True))["U"] == "not read"
    assert "U" not in told_keys(shelf_hints(typing=False, searched=False))
