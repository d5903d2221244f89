"""The figures of `tests.bench.line_figures` on three excerpts counted by hand."""

import pytest

from game.lines.levels import LEVELS
from tests.bench.line_figures import FIGURES, TARGETS, Excerpt, Sounded, ends_off_beat, excerpt_of, rest_share, steps
from tests.lines.making import line
from tests.made import score

# Frère Jacques (traditional) in C: each of its four bars twice. Bars in eighths: 2 2 2 2, 2 2 4, 1 1 1 1 2 2, 2 2 4.
FRERE_JACQUES = excerpt_of(
    score(
        *["C4 q, D4 q, E4 q, C4 q"] * 2,
        *["E4 q, F4 q, G4 h"] * 2,
        *["G4 e, A4 e, G4 e, F4 e, E4 q, C4 q"] * 2,
        *["C4 q, G3 q, C4 h"] * 2,
    )
)
# Eight bars in F made up for this test: off-beats, a tie of a breath, a tritone, a chromatic note, chords.
OFF_BEAT = Excerpt(
    (
        Sounded(0, 12, 65, 5, "major"),
        Sounded(18, 6, 66, 5, "major"),
        Sounded(30, 18, 67, 5, "major"),
        Sounded(60, 12, 72, 0, "dominant"),
        Sounded(72, 12, 70, 0, "dominant"),
        Sounded(96, 12, 76, 0, "dominant"),
        Sounded(156, 6, 70, 0, "dominant"),
        Sounded(336, 12, 69, 5, "major"),
    ),
    tonic=5,
)
# A row of the same eighths in each of eight bars, a step lower in every other, over no chord.
ROW = Excerpt(
    tuple(Sounded(48 * bar + 6 * at, 6, 60 + at - bar % 2) for bar in range(8) for at in range(4)), tonic=0, minor=True
)


def value(name, excerpt):
    return FIGURES[name](excerpt)


@pytest.mark.parametrize(
    ("name", "counted"),
    [
        ("notes a bar", 32 / 8),
        # Between its 32 notes: 2 2 -4 | 0 | 2 2 -4 | 4 | 1 2 | -3 | 1 2 | 0 | 2 -2 -2 -1 -4 | 7 | 2 -2 -2 -1 -4 | 0 |
        # -5 5 | 0 | -5 5.
        ("repeats", 4 / 31),
        ("thirds", 6 / 31),
        # Leaps are 7 -5 5 -5 5, the last of all followed by nothing; of four 7 is answered by 2 in its own direction.
        ("leap answered by step", 0),
        # Bars 2, 4, 6, 8 are those before them; the rhythm of bar 7 is that of bar 3.
        ("bar rhythm returns", 5 / 7),
        ("the bar itself", 4 / 7),
        ("starts on the downbeat", 1),
        ("breath in bar 4", 1),
        ("syncopations a bar", 0),
        ("chromatic share", 0),
        ("tritones in 8 bars", 0),
        ("chord tone on 1, 3", None),
    ],
)
def test_a_round_counted_by_hand(name, counted):
    assert value(name, FRERE_JACQUES) == (None if counted is None else pytest.approx(counted))


@pytest.mark.parametrize(
    ("name", "counted"),
    [
        # Intervals 1 1 5 -2 6 -6 -1; the fourth is answered by -2, the tritones by -6 and by -1 in its own direction.
        ("notes a bar", 1),
        ("repeats", 0),
        ("thirds", 0),
        ("leap answered by step", 1 / 3),
        ("tritones in 8 bars", 2),
        # On beats 1 and 3 stand F over F, B flat over C7 (onset 72), E over C7, A over F; on 2 and 4 C over C7 (onset
        # 60) and B flat over C7 (onset 156).
        ("chord tone on 1, 3", 1),
        ("chord tone on 2, 4", 1),
        # Breaths lie before onsets 60, 96, 156 and 336; 96 and 336 are downbeats. The one that begins in bar 4 has its
        # note at 156.
        ("starts on the downbeat", 2 / 4),
        ("breath in bar 4", 1),
        # 18 is followed by 24 without a note, 30 by 36 without one.
        ("syncopations a bar", 2 / 8),
        # F sharp in F.
        ("chromatic share", 1 / 8),
        ("bar rhythm returns", 0),
    ],
)
def test_off_beats_and_chords_counted_by_hand(name, counted):
    assert value(name, OFF_BEAT) == pytest.approx(counted)


def test_ends_steps_and_rests_counted_by_hand():
    """Before its breaths stand 30, 72, 96 and 156: one off the beat. Of its intervals 1 1 -2 -1 are steps. Silent are
    6 and 6 ticks in bar 1, 12 before 60, 12 before 96, 48 before 156 and 174 before 336.
    """
    assert ends_off_beat(OFF_BEAT) == 1 / 4
    assert steps(OFF_BEAT) == pytest.approx(4 / 7)
    assert rest_share(OFF_BEAT) == pytest.approx((6 + 6 + 12 + 12 + 48 + 174) / 384)


def test_a_row_of_bars_counted_by_hand():
    """All threes but the last come again: 1 1 1, 1 1 -4, 1 -4 1, -4 1 1 and the like, joined by -4 and -2 in turn."""
    assert value("bar rhythm returns", ROW) == 1
    assert value("the bar itself", ROW) == pytest.approx(6 / 7)
    assert value("three intervals return", ROW) == 1
    # C sharp, and in every other bar B, C, C sharp, D: of twelve semitones 1 is outside the minor scale with its raised
    # sixth and seventh, in each bar one note of four.
    assert value("chromatic share", ROW) == pytest.approx(8 / 32)


def test_an_excerpt_begins_after_the_pickup_and_ends_with_the_eighth_bar():
    made = next(made for seed in range(20) if (made := line(LEVELS[3], seed=seed, bars=9)).bars[0].pickup)
    excerpt = excerpt_of(made)
    assert 0 <= excerpt.notes[0].onset < 48
    assert excerpt.notes[-1].onset < 384
    assert excerpt.notes[0].midi == made.bars[1].notes[0].pitch.midi
    assert excerpt.tonic == 5


def test_every_figure_has_a_range_for_each_level():
    assert TARGETS.keys() == FIGURES.keys()
    assert all(len(row) == len(LEVELS) for row in TARGETS.values())
