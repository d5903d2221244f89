"""The shelf searched and sorted, what to read next, and what was seen."""

from dataclasses import replace

import pytest

from game.music.score import Reading
from game.music.tune_kind import TuneKind
from game.neck.neck_map import standard_map
from game.tunes.library.library import shipped_entries
from game.tunes.library.shelf_entry import ShelfEntry, entry_of
from game.tunes.library.shelf_order import ShelfOrder, found, newest_first, ordered
from game.tunes.library.tune_readiness import tune_readiness
from tests.made import score

MAP = standard_map()


def entry(name: str, *rows: str, title: str = "", key: int = 0, reading=Reading.GUITAR) -> ShelfEntry:
    made = score(*rows, key=key, reading=reading, title=title or name)
    return entry_of(made, name=name, file_name=f"{name}.xml")


EASY = entry("easy", "A4 h, B4 h", title="Zwei Schritte")
CHROMATIC = entry("chromatic", "A4 q, Bb4 q, B4 q, C5 q", title="Élan")
DENSE = entry("dense", "A4 e, B4 e, C5 e, D5 e, E5 e, D5 e, C5 e, B4 e", title="mill race")
# Written C♯4 sounds 49, a stretch in position V; written C6 sounds 72, C♯6 the last.
STRETCHED = entry("stretched", "C#4 h, A4 h", title="Reach")
OFF = entry("off", "E3 h, A4 h", title="Low")
FLATS = entry("flats", "Bb4 h, Eb5 h", title="Two flats", key=-2)
ALL = (EASY, CHROMATIC, DENSE, STRETCHED, OFF, FLATS)


def names(entries):
    return [one.name for one in entries]


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("", names(ALL)),
        ("mill", ["dense"]),
        ("RACE mi", ["dense"]),
        ("elan", ["chromatic"]),
        ("é", ["easy", "chromatic"]),
        ("zwei sch", ["easy"]),
        ("chritte", []),
        ("bb", ["flats"]),
        ("B♭", ["flats"]),
        ("two 4/4", ["flats"]),
        ("3/4", []),
        ("nothing at all", []),
    ],
)
def test_a_search_finds_beginnings_of_words_whatever_their_case_and_accents(words, expected):
    """All words must be there; a key or a metre is found too."""
    assert names(found(ALL, words)) == expected


def test_kinds_are_found_by_what_they_are_called():
    sheet = replace(EASY, name="sheet", kind=TuneKind.LEAD_SHEET)
    shelf = (*ALL, sheet)
    for words in ("lead sheet", "LEAD zwei", "sheet"):
        assert names(found(shelf, words, {TuneKind.LEAD_SHEET: "lead sheet"})) == ["sheet"], words
    assert found(shelf, "lead") == ()


def test_what_to_read_next_is_the_easiest_on_the_map_that_was_never_seen():
    """Seen ones come after; a note without a home weighs most."""
    assert names(ordered(ALL, ShelfOrder.NEXT, MAP))[0] == "easy"
    after = names(ordered(ALL, ShelfOrder.NEXT, MAP, seen={"easy"}))
    assert after[-1] == "easy"
    difficulties = [tune_readiness(one, MAP).difficulty for one in ordered(ALL, ShelfOrder.NEXT, MAP)]
    assert difficulties == sorted(difficulties)
    assert tune_readiness(OFF, MAP).difficulty > tune_readiness(STRETCHED, MAP).difficulty > 0


def test_slow_notes_handed_in_move_a_tune_back():
    """All A slow: written A4 sounds 57."""
    assert names(ordered((EASY, FLATS), ShelfOrder.NEXT, MAP)) == ["easy", "flats"]
    assert names(ordered((EASY, FLATS), ShelfOrder.NEXT, MAP, weights={57: 1.0, 59: 1.0})) == ["flats", "easy"]


def test_each_order_sorts_by_what_it_says():
    """And comes round again."""
    assert names(ordered(ALL, ShelfOrder.AS_PUT, MAP)) == names(ALL)
    assert names(ordered(ALL, ShelfOrder.TITLE, MAP)) == ["chromatic", "off", "dense", "stretched", "flats", "easy"]
    assert names(ordered(ALL, ShelfOrder.KEY, MAP))[-1] == "flats"
    assert names(ordered(ALL, ShelfOrder.RANGE, MAP))[0] == "easy"
    assert names(ordered(ALL, ShelfOrder.RANGE, MAP))[-1] == "off"
    assert names(ordered(ALL, ShelfOrder.DENSITY, MAP))[-1] == "dense"
    assert names(ordered(ALL, ShelfOrder.CHROMATIC, MAP))[-2:] == ["chromatic", "stretched"]
    assert names(ordered(ALL, ShelfOrder.STRETCHES, MAP))[-1] == "off"
    order, came = ShelfOrder.AS_PUT, []
    for _ in ShelfOrder:
        came.append(order)
        order = order.following
    assert came == list(ShelfOrder)
    assert order is ShelfOrder.AS_PUT


def test_the_shipped_tunes_have_what_sorting_needs():
    """Difficulty, density and counts were made with them."""
    entries = shipped_entries()
    assert all(one.form >= 1 and one.difficulty > 0 and one.density > 0 for one in entries)
    assert all(sum(count for _, count in one.counts) == one.notes for one in entries)
    easiest = ordered(entries, ShelfOrder.NEXT, MAP)
    assert easiest[0].difficulty < 2
    assert easiest[-1].difficulty > 3


def test_what_just_came_stands_first_and_the_players_own_before_the_book():
    """As they were put there; to what to read next only what just came is added. Other orders hold as they were asked
    for.
    """
    shelved = (*shipped_entries()[:2], EASY, DENSE)
    own_first = [EASY.name, DENSE.name, *names(shipped_entries()[:2])]
    assert names(newest_first(shelved, ShelfOrder.AS_PUT)) == own_first
    new = frozenset(("dense",))
    assert names(newest_first(shelved, ShelfOrder.AS_PUT, new))[:2] == ["dense", "easy"]
    assert names(newest_first(shelved, ShelfOrder.NEXT, new)) == ["dense", *names(shelved[:3])]
    assert newest_first(shelved, ShelfOrder.TITLE, new) == shelved
