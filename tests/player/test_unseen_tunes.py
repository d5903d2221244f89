"""Tunes that were never played, as the plan compares them."""

from dataclasses import replace

import pytest

from game.lines.levels import LEVELS
from game.music.tune_kind import TuneKind
from game.neck.neck_map import standard_map
from game.player.unseen_tunes import DIFFICULTY_OF_LEVEL, comparable_level, unseen_tune
from game.tunes.library.library import shipped_entries
from game.tunes.library.shelf_entry import entry_of
from tests.bench.book_evenings import difficulty_of_level
from tests.made import score
from tests.sampling import how_many

MAP = standard_map()


@pytest.mark.parametrize(("difficulty", "low", "high"), [(0.5, 0.5, 1), (1.22, 0.9, 1.2), (2.0, 3.5, 4.5), (5, 8, 9)])
def test_a_tune_is_compared_with_the_lines_of_a_level(difficulty, low, high):
    assert low <= comparable_level(difficulty) <= high


def test_lines_are_as_difficult_as_the_table_of_levels_says():
    """Medians of ninety lines lie within an eighth of a point of it, those of a few within half a point."""
    apart = how_many(12, by_default=50) / 100
    for level, told in zip(LEVELS, DIFFICULTY_OF_LEVEL, strict=True):
        assert abs(difficulty_of_level(level, how_many(90, by_default=9)) - told) <= apart, level.name
    assert list(map(comparable_level, DIFFICULTY_OF_LEVEL)) == pytest.approx(range(1, 9))


def test_what_stretches_on_this_map_is_harder_for_its_player():
    """Written C♯4 sounds 49: a stretch in position V, at its finger in position IV."""
    reaches = entry_of(score("C#4 q, C#4 q, C#4 q, C#4 q", key=7), name="reaches", file_name="r")
    there = unseen_tune(reaches, standard_map(position=4), set())
    assert unseen_tune(reaches, MAP, set()).difficulty > there.difficulty == comparable_level(reaches.difficulty)


def test_its_kind_and_what_it_stands_beside_are_known():
    kinds = {entry.name: unseen_tune(entry, MAP, set()) for entry in shipped_entries()}
    study = kinds["94-study-the-thread"]
    assert (study.kind, kinds[study.beside].kind) == (TuneKind.STUDY, TuneKind.LEAD_SHEET)
    own = replace(shipped_entries()[0], shipped=False)
    assert (unseen_tune(own, MAP, set()).kind, unseen_tune(own, MAP, set()).own) == (TuneKind.SONG, True)
