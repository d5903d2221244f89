"""Where a tune breathes, and where its page divides it."""

from dataclasses import replace

from game.music.keys import Key
from game.music.phrases import bar_starts
from game.music.score import BarLine, BarMarks
from tests.made import bar, score

RUN = "G4 q, A4 q, B4 q, A4 q"


def breaths(*rows):
    return [start.breath for start in bar_starts(score(*rows).bars)]


def test_music_that_runs_on_breathes_nowhere():
    assert breaths(RUN, RUN, RUN) == [0.0, 0.0, 0.0]


def test_it_breathes_after_a_long_note_and_more_after_a_longer_one_and_a_rest():
    half, whole = breaths(RUN, "G4 q, A4 q, B4 h", RUN)[2], breaths(RUN, "G4 w", RUN)[2]
    rest = breaths(RUN, "G4 q, A4 q, B4 q, r q", RUN)[2]
    assert 0 < half < whole
    assert rest > half


def test_a_dotted_note_is_no_end():
    assert breaths(RUN, "G4 q, A4 q, B4 q., A4 e", RUN)[2] == 0.0


def test_notes_that_lead_in_stay_in_their_bar_unless_they_are_most_of_it():
    """The bar of a short pickup ends the page before, that of a long one begins its own."""
    assert [value > 0 for value in breaths(RUN, "D5 h., G4 q", RUN, RUN)] == [False, False, True, False]
    assert [value > 0 for value in breaths("D4 h, C4 h", "D5 q, r e, G4 e, A4 q, B4 q", RUN, RUN, RUN)][:2] == [
        False,
        True,
    ]


def test_a_note_over_the_bar_line_is_tied_and_struck_early_no_long_one():
    starts = bar_starts(score(RUN, "C4 q, D4 q, G4 q, E5 q ~", "~E5 q, E5 q, F5 q, G5 q", RUN).bars)
    assert [start.tied for start in starts] == [False, False, True, False]
    assert all(start.breath == 0 for start in starts)


def test_the_page_divides_at_double_bars_words_and_new_keys():
    bars = list(score(*[RUN] * 5).bars)
    bars[0] = replace(bars[0], marks=BarMarks(bar_line=BarLine.DOUBLE))
    bars[2] = replace(bars[2], marks=BarMarks(section="A"))
    bars[3:] = [replace(one, key=Key(2)) for one in bars[3:]]
    assert [start.divides for start in bar_starts(bars)] == [True, True, True, True, False]


def test_a_bar_that_began_a_section_is_known_again():
    starts = bar_starts(score("C4 q, D4 q, E4 h", RUN, RUN, RUN, "C4 q, D4 q, E4 h", RUN).bars)
    assert [start.again for start in starts] == [False, False, False, False, True, False]


def test_pickups_and_bars_of_waiting_are_no_bars_of_the_phrase():
    made = score("r w", RUN, "r w", RUN, *["r w"] * 3, RUN).bars
    counts = [start.counts for start in bar_starts(made)]
    assert counts == [False, True, True, True, False, False, False, True]
    pickup = bar_starts((bar("D4 q", pickup=True), *made[1:2]))
    assert [start.counts for start in pickup] == [False, True]
