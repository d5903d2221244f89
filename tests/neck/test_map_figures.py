"""How a map serves melodies, in figures and in words."""

from random import Random

import pytest

from game.neck.map_figures import cost_of_moving, figures_of
from game.neck.melody_counts import MelodyCounts, melody_counts
from game.neck.movement_costs import COSTS, fingered, note_cost, step_cost
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import Place
from game.text.catalogue import catalogue_in
from tests.sampling import how_many

POSITION_V = standard_map()


def walked(neck_map, phrases):
    """The cost of playing some phrases on a map, note by note."""
    total = 0.0
    for phrase in phrases:
        before = None
        for sounding in phrase:
            home = neck_map.home_of(sounding)
            if home is None:
                total, before = total + COSTS.off_map, None
                continue
            taken = fingered(home.place, neck_map.hand_position(home.place), neck_map.hand)
            total += note_cost(taken) + COSTS.outlying * home.outlying
            total += step_cost(before, taken) if before is not None else 0
            before = taken
    return total


def phrases_of(seed, notes=12, lowest=38, highest=80):
    rng = Random(seed)
    return [[rng.randint(lowest, highest) for _ in range(notes)] for _ in range(3)]


def told(figures, language="en"):
    return [catalogue_in(language).tell(one) for one in figures.gives_up]


def test_a_map_counts_notes_as_often_as_they_occur():
    figures = figures_of(POSITION_V, melody_counts([[60, 59, 60, 90]]))
    assert (figures.on_map_share, figures.stretch_share, figures.outlying_share) == (0.75, 0.25, 0)
    assert figures.unreached == (90,)


@pytest.mark.parametrize("second", [None, SecondRegion(position=9, seam=64)])
def test_movement_is_what_playing_the_tunes_note_by_note_costs(second):
    for seed in range(how_many(200, by_default=20)):
        phrases = phrases_of(seed)
        neck_map = standard_map(choices={40: Place(6, 0), 80: Place(1, 16), 59: Place(3, 4)}, second=second)
        figures = figures_of(neck_map, melody_counts(phrases))
        assert figures.movement == walked(neck_map, phrases) / 36


def test_no_notes_are_wholly_on_the_map_and_move_nothing():
    figures = figures_of(POSITION_V, MelodyCounts())
    assert (figures.on_map_share, figures.movement, figures.gives_up) == (1, 0, ())


def test_a_note_repeated_moves_nothing():
    assert figures_of(POSITION_V, melody_counts([[60] * 8])).movement == 0


@pytest.mark.parametrize("language", ["en", "de"])
def test_what_is_given_up_is_said_in_sentences(language):
    """Position V begins at A♭2, written A♭3, and ends at C♯5, written C♯6 (check-values; calc)."""
    neck_map = standard_map(choices={76: Place(1, 12)})
    tune = [40, 40, 41, 43, 60, 59, 76, 60, 74, 90, 57, 62]
    said = told(figures_of(neck_map, melody_counts([tune])), language)
    assert len(said) == 7
    assert ("4 notes lie below Ab3." if language == "en" else "4 Noten liegen unter Ab3.") in said


def test_of_an_open_position_no_open_string_is_missed():
    assert told(figures_of(standard_map(position=1), melody_counts([[40, 45, 64]]))) == []
    assert told(figures_of(POSITION_V, melody_counts([[45, 57, 64]]))) == ["No open string is a home."]


def test_moving_a_home_costs_what_the_figures_say_of_the_map_with_it_there():
    for seed in range(how_many(300, by_default=15)):
        counts = melody_counts(phrases_of(seed))
        before = figures_of(POSITION_V, counts).movement
        for place in (Place(1, 9), Place(3, 4), Place(4, 9), Place(6, 0), Place(1, 14), Place(2, 5), Place(5, 17)):
            moved = POSITION_V.with_choice(place)
            change = figures_of(moved, counts).movement - before
            assert cost_of_moving(POSITION_V, place, counts) == pytest.approx(change, abs=1e-9)


def test_moving_a_home_to_where_it_is_or_one_that_no_tune_asks_for_costs_nothing():
    counts = melody_counts([[60, 62]])
    assert cost_of_moving(POSITION_V, POSITION_V.home_of(60).place, counts) == 0
    assert cost_of_moving(POSITION_V, Place(6, 0), counts) == 0
