"""How tunes are divided into pages: made ones, and those we ship, read as a musician reads them."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from game.music.phrase_cuts import phrase_cuts
from game.music.phrases import bar_starts
from game.music.score import BarLine, BarMarks
from game.music.written import written_out
from game.tunes.library.library import open_entry, shipped_entries
from tests.made import score
from tests.sampling import sample

RUN = "G4 q, A4 q, B4 q, A4 q"


def cuts_of(title):
    (entry,) = [entry for entry in shipped_entries() if entry.name.endswith(title)]
    score = written_out(open_entry(entry))
    return [(score.bars[start].number, score.bars[stop - 1].number) for start, stop in phrase_cuts(score.bars, 4)]


def test_the_first_page_is_the_first_phrase_of_the_ode_and_its_last_begins_with_the_tied_note():
    """Beethoven ties the last note of bar 12 over the bar line (Symphony no. 9, finale): bar 12 is its pickup."""
    assert cuts_of("65-ode-to-joy-in-c") == [("1", "4"), ("5", "8"), ("9", "11"), ("12", "16")]


def test_pages_end_where_one_breathes_when_singing():
    """trade: where the lines of the words end."""
    assert cuts_of("god-save-the-king")[:2] == [("1", "6"), ("7", "10")]
    assert cuts_of("scarborough-fair") == [("1", "4"), ("5", "9"), ("10", "13"), ("14", "17")]
    assert cuts_of("clementine") == [("0", "4"), ("5", "8")]
    assert cuts_of("amazing-grace") == [("0", "4"), ("5", "8"), ("9", "12"), ("13", "16")]
    assert cuts_of("fuer-elise")[4:8] == [("10", "12"), ("13", "15"), ("16", "19"), ("20", "23")]


def test_a_tune_we_ship_has_pages_of_three_to_six_bars_and_no_tie_is_cut():
    for entry in sample(shipped_entries(), by_default=12):
        bars = written_out(open_entry(entry)).bars
        starts, cuts = bar_starts(bars), phrase_cuts(bars, 4)
        lengths = [sum(one.counts for one in starts[start:stop]) for start, stop in cuts]
        assert all(3 <= length <= 6 for length in lengths), entry.name
        assert not any(starts[start].tied for start, _ in cuts), entry.name
        begun = {start for start, _ in cuts}
        alone = {index for index, one in enumerate(starts) if one.divides} - begun
        # Only what would be a page of one bar goes on over a double bar line.
        assert all(_is_alone(starts, index) for index in alone), entry.name


def _is_alone(starts, index):
    following = next((at for at in range(index + 1, len(starts)) if starts[at].divides), len(starts))
    return sum(one.counts for one in starts[index:following]) < 2


def test_a_double_bar_ends_a_page_though_it_is_short_and_the_count_begins_anew_behind_it():
    bars = list(score(*[RUN] * 14).bars)
    bars[5] = replace(bars[5], marks=BarMarks(bar_line=BarLine.DOUBLE))
    assert phrase_cuts(bars, 4) == [(0, 6), (6, 10), (10, 14)]
    bars[7] = replace(bars[7], marks=BarMarks(bar_line=BarLine.DOUBLE))
    assert phrase_cuts(bars, 4)[:2] == [(0, 6), (6, 8)]


def test_a_bar_alone_between_double_bars_goes_with_a_neighbour():
    bars = list(score(*[RUN] * 5).bars)
    bars[0] = bars[3] = replace(bars[0], marks=BarMarks(bar_line=BarLine.DOUBLE))
    assert phrase_cuts(bars, 4) == [(0, 5)]


def test_music_that_comes_again_is_divided_as_before():
    rows = [RUN, "D5 w", RUN, RUN, RUN, "C5 q, B4 q, A4 h", RUN]
    bars = list(score(*rows).bars)
    bars[-1] = replace(bars[-1], marks=BarMarks(bar_line=BarLine.DOUBLE))
    once = phrase_cuts(bars, 4)
    assert phrase_cuts([*bars, *bars], 4) == [*once, *((start + 7, stop + 7) for start, stop in once)]


@given(
    st.lists(st.sampled_from(("r w", RUN, "G4 w", "G4 h., A4 q ~", "~A4 w", "~A4 h, G4 h")), min_size=1, max_size=40),
    st.integers(1, 9),
)
def test_whatever_a_tune_holds_its_pages_follow_each_other_and_none_is_too_long(rows, about):
    bars = score(*rows).bars
    cuts, starts = phrase_cuts(bars, about), bar_starts(bars)
    assert [start for start, _ in cuts] == [0, *(stop for _, stop in cuts[:-1])]
    assert cuts[-1][1] == len(bars)
    assert all(sum(one.counts for one in starts[start:stop]) <= max(1.5 * about, 1) for start, stop in cuts)
    assert phrase_cuts(bars, about) == cuts
