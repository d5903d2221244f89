"""Lines have one name in files and answers, and are called by it in every language."""

import pytest

from game.lines.levels import LEVELS
from game.lines.rhythms import RHYTHMS
from game.lines.titles import line_title, sibling_title, single_notes_title, title_told
from game.music.keys import Key
from game.text.catalogue import tell

KEY = Key(-2)


@pytest.mark.parametrize("level", LEVELS, ids=lambda level: str(level.number))
def test_in_english_the_title_of_a_line_is_the_one_it_has_in_files_but_for_the_flats_of_its_key(level):
    title = line_title(level, KEY)
    assert title == f"{level.name.capitalize()}, in Bb"
    assert tell(title_told(title)) == f"{level.name.capitalize()}, in B♭"
    assert title_told(title).key == f"lines.title_{level.number}"


@pytest.mark.parametrize(
    "title",
    [
        single_notes_title(Key(3, minor=True)),
        sibling_title("Evening", "reordered"),
        sibling_title("Evening", "fresh"),
        sibling_title("Evening", "transposed", KEY),
        sibling_title(sibling_title(line_title(LEVELS[2], KEY), "reordered"), "transposed", Key(1)),
    ],
)
def test_in_english_rows_and_siblings_are_called_as_in_files_too(title):
    assert tell(title_told(title)) == title.replace("Bb", "B♭").replace("F#", "F♯")
    assert title_told(title).key.startswith("lines.")


def test_a_sibling_tells_what_it_is_a_sibling_of_in_the_same_way():
    told = title_told(sibling_title(line_title(LEVELS[0], KEY), "fresh"))
    assert told.key == "lines.sibling_fresh"
    assert dict(told.values)["title"].key == "lines.title_1"


@pytest.mark.parametrize(
    "title",
    ["Evening", "Five notes", "five notes, in C", "Sibling of Evening", "Sibling of Evening: in another order", ""],
)
def test_a_title_of_its_own_stands_as_it_is(title):
    assert title_told(title).key == "verbatim"
    assert tell(title_told(title)) == title


@pytest.mark.parametrize("named", [*LEVELS, *RHYTHMS], ids=lambda named: named.name)
def test_in_english_levels_and_rhythms_are_called_as_in_answers(named):
    assert tell(named.told) == named.name
