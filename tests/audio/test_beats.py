"""Where clicks fall."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.audio.beats import (
    Click,
    Clicking,
    ClickKind,
    ClickRow,
    ClickSettings,
    click_shown,
    clicks_of,
    even_clicks,
    quarter_tempo,
)
from game.coach.numbers import NUMBERS
from game.errors import TakeError
from game.judging.tolerance import bar_spans, timed_grid
from game.music.meter import Meter
from game.music.score import Bar
from game.music.written import written_notes
from tests.made import bar, passage
from tests.refusing import refusal

SIX_EIGHT = Meter(6, 8)


def told(clicks: tuple[Click, ...]) -> str:
    """Onsets with a letter for the kind: a(ccent), b(eat), s(ubdivision)."""
    return " ".join(f"{click.onset_quarters}{click.kind.value[0]}" for click in clicks)


def row(*bars: Bar, tempo_bpm: float = 100.0, **settings: object) -> ClickRow:
    return clicks_of(bars, ClickSettings(tempo_bpm=tempo_bpm, **settings))  # type: ignore[arg-type]


def test_every_bar_begins_with_an_accent_and_one_bar_is_counted_in():
    clicks = row(bar("G4 w"), bar("G4 w"))
    assert told(clicks.count_in) == "-4a -3b -2b -1b"
    assert told(clicks.music) == "0a 1b 2b 3b 4a 5b 6b 7b"


def test_onsets_are_seconds_at_a_constant_tempo():
    clicks = row(bar("G4 w"), tempo_bpm=80)
    assert [click.onset_s for click in clicks.music] == [0.0, 0.75, 1.5, 2.25]
    assert clicks.exact_s(clicks.start_quarters) == -3
    assert clicks.end_s == 3.0


def test_compound_metres_click_on_the_dotted_quarter_and_count_two_short_bars_in():
    clicks = row(bar("G4 h.", meter=SIX_EIGHT), tempo_bpm=60)
    assert told(clicks.music) == "0a 3/2b"
    assert [click.onset_s for click in clicks.music] == [0.0, 1.0], "the tempo counts dotted quarters"
    assert told(clicks.count_in) == "-6a -9/2b -3a -3/2b"


@pytest.mark.parametrize(
    ("meter", "expected"),
    [
        (Meter(3, 4), "0a 1b 2b"),
        (Meter(2, 2), "0a 2b"),
        (Meter(9, 8), "0a 3/2b 3b"),
        (Meter(12, 8), "0a 3/2b 3b 9/2b"),
        (Meter(3, 8), "0a 1/2b 1b"),
        (Meter(5, 4), "0a 1b 2b 3b 4b"),
        (Meter(7, 8), "0a 1/2b 1b 3/2b 2b 5/2b 3b"),
    ],
    ids=lambda value: value.text if isinstance(value, Meter) else "",
)
def test_each_metre_clicks_on_its_own_beats(meter: Meter, expected: str):
    held = Bar(number="1", meter=meter, key=bar("G4 w").key, length=meter.bar_length, events=())
    assert told(row(held).music) == expected


def test_where_the_metre_changes_the_quarter_note_keeps_its_length():
    clicks = row(bar("G4 h.", meter=Meter(3, 4)), bar("G4 h.", meter=SIX_EIGHT), bar("G4 w"), tempo_bpm=60)
    assert told(clicks.music) == "0a 1b 2b 3a 9/2b 6a 7b 8b 9b"
    assert clicks.music[4].onset_s == 4.5


def test_a_pickup_bar_comes_in_at_its_own_beat_after_the_count_in():
    clicks = row(bar("G4 q", pickup=True), bar("G4 w"))
    assert told(clicks.count_in) == "-7a -6b -5b -4b -3a -2b -1b"
    assert told(clicks.music) == "0b 1a 2b 3b 4b"


def test_a_pickup_off_the_beat_has_no_click_at_its_first_note():
    clicks = row(bar("G4 e", pickup=True), bar("G4 w"))
    assert told(clicks.count_in)[-len("-3/2b -1/2b") :] == "-3/2b -1/2b"
    assert told(clicks.music)[:4] == "1/2a"


def test_the_second_half_of_a_split_bar_goes_on_counting():
    """As at a repeat sign within the bar: 3 1/2 beats, then half a beat."""
    clicks = row(bar("G4 h., G4 e"), bar("A4 e"), bar("G4 w"))
    assert told(clicks.music) == "0a 1b 2b 3b 4a 5b 6b 7b"


def test_below_sixty_the_beats_are_subdivided_and_from_sixty_on_they_are_not():
    assert told(row(bar("G4 h"), tempo_bpm=59).music) == "0a 1/2s 1b 3/2s"
    assert told(row(bar("G4 h"), tempo_bpm=60).music) == "0a 1b"
    assert told(row(bar("G4 h"), tempo_bpm=120, subdivisions=True).music) == "0a 1/2s 1b 3/2s"
    assert told(row(bar("G4 h"), tempo_bpm=40, subdivisions=False).music) == "0a 1b"


def test_compound_beats_are_subdivided_in_three():
    assert told(row(bar("G4 h.", meter=SIX_EIGHT), tempo_bpm=50).music) == "0a 1/2s 1s 3/2b 2s 5/2s"


def test_on_two_and_four_only_these_are_heard_but_the_count_in_is_whole():
    clicks = row(bar("G4 w"), bar("G4 w"), clicking=Clicking.TWO_AND_FOUR, tempo_bpm=50)
    assert told(clicks.music) == "1b 3b 5b 7b"
    assert told(clicks.count_in) == "-4a -3b -2b -1b"


def test_metres_without_back_beats_are_clicked_whole():
    assert told(row(bar("G4 h.", meter=Meter(3, 4)), clicking=Clicking.TWO_AND_FOUR).music) == "0a 1b 2b"
    assert told(row(bar("G4 h.", meter=SIX_EIGHT), clicking=Clicking.TWO_AND_FOUR).music) == "3/2b"


def test_off_beat_subdivisions_swing_by_the_ratio():
    clicks = row(bar("G4 h"), tempo_bpm=50, swing=1.5)
    assert told(clicks.music) == "0a 3/5s 1b 8/5s"


def test_compound_subdivisions_and_quarter_off_beats_do_not_swing():
    assert told(row(bar("G4 h.", meter=SIX_EIGHT), tempo_bpm=50, swing=2.0).music) == "0a 1/2s 1s 3/2b 2s 5/2s"
    assert told(row(bar("G4 w", meter=Meter(2, 2)), tempo_bpm=50, swing=2.0).music) == "0a 1s 2b 3s"


def test_swung_clicks_fall_where_the_judge_expects_the_written_eighths():
    eighths = passage("G4 e, A4 e, B4 e, A4 e, G4 e, A4 e, B4 e, A4 e")
    clicks = clicks_of(eighths.bars, ClickSettings(tempo_bpm=55, swing=1.6))
    grid = timed_grid(
        written_notes(eighths.bars, eighths.reading), tempo_bpm=55, spans=bar_spans(eighths.bars), swing=1.6
    )
    assert [click.onset_s for click in clicks.music] == pytest.approx(grid.onsets_s, abs=1e-5)


@pytest.mark.parametrize(
    ("bars", "back", "loop"),
    [
        ((bar("G4 w"), bar("G4 w")), "", 8),
        ((bar("G4 q", pickup=True), bar("G4 w"), bar("G4 h.")), "", 8),
        ((bar("G4 q", pickup=True), bar("G4 w"), bar("G4 w")), "9a 10b 11b", 12),
        ((bar("G4 w"), bar("G4 h")), "6b 7b", 8),
        ((bar("G4 h.", pickup=True), bar("A4 h")), "5b 6b 7a", 8),
        ((bar("G4 h.", meter=Meter(3, 4), pickup=False), bar("A4 h")), "5b 6b", 7),
    ],
    ids=["full bars", "complementary", "full last bar", "short last bar", "over the bar line", "metre changes"],
)
def test_a_loop_is_filled_up_until_its_beginning_comes_at_its_right_beat(bars: tuple[Bar, ...], back: str, loop: int):
    clicks = clicks_of(bars, ClickSettings(tempo_bpm=100))
    assert told(clicks.leading_back) == back
    assert clicks.loop_quarters == loop


@given(
    pickup=st.integers(0, 3),
    full=st.integers(1, 4),
    last=st.integers(1, 4),
)
def test_looped_accents_stay_whole_bars_apart_wherever_the_passage_begins_and_ends(pickup: int, full: int, last: int):
    def in_quarters(beats: int, *, as_pickup: bool = False) -> Bar:
        return bar(", ".join(["G4 q"] * beats), pickup=as_pickup)

    bars = ([in_quarters(pickup, as_pickup=True)] if pickup else []) + [in_quarters(4)] * full + [in_quarters(last)]
    clicks = clicks_of(bars, ClickSettings(tempo_bpm=100))
    twice = [
        click.onset_quarters + again * clicks.loop_quarters
        for again in (0, 1)
        for click in (*clicks.music, *clicks.leading_back)
        if click.kind is ClickKind.ACCENT
    ]
    assert {(here - twice[0]) % 4 for here in twice} == {0}
    assert clicks.loop_quarters - clicks.end_quarters < 4


def test_one_written_note_a_click_is_an_even_row_in_four():
    assert told(even_clicks(6, ClickSettings(tempo_bpm=70)).music) == "0a 1b 2b 3b 4a 5b"


def test_the_visible_beat_is_the_last_click_due_in_count_in_music_and_loop():
    clicks = row(bar("G4 q", pickup=True), bar("G4 w"), bar("G4 w"), tempo_bpm=60, subdivisions=False)
    assert click_shown(clicks, -7.5) is None
    assert click_shown(clicks, -0.25) == (clicks.count_in[-1], 0.75)
    assert click_shown(clicks, 2.5) == (clicks.music[2], 0.5)
    assert click_shown(clicks, 10.25, looping=True) == (clicks.leading_back[1], 0.25)
    assert click_shown(clicks, 13.5, looping=True) == (clicks.music[1], 0.5)


@pytest.mark.parametrize("tempo_bpm", [0, -60, 19.9, 400.1, float("nan"), float("inf")])
def test_a_tempo_out_of_range_is_refused_with_what_to_give(tempo_bpm: float):
    with refusal(TakeError, r"out of range: in 4/4 give 20 to 400 beats a minute"):
        row(bar("G4 w"), tempo_bpm=tempo_bpm)


def test_the_range_of_tempi_is_told_in_the_metres_own_beat():
    with refusal(TakeError, r"in 6/8 give 13.33 to 266.7 beats a minute"):
        row(bar("G4 h.", meter=SIX_EIGHT), tempo_bpm=300)


@pytest.mark.parametrize(("beats", "unit"), [(3, 8), (5, 8), (3, 16), (4, 4), (2, 2), (6, 8)])
def test_the_slowest_click_of_the_coach_is_a_click_in_every_metre(beats, unit):
    meter = Meter(beats, unit)
    assert quarter_tempo(NUMBERS.lowest_bpm, meter) == NUMBERS.lowest_bpm * meter.beat_length


def test_a_passage_without_bars_or_notes_is_refused():
    with refusal(TakeError, "has no bars: choose at least one"):
        clicks_of((), ClickSettings(tempo_bpm=60))
    with refusal(TakeError, "has no notes: choose bars with at least one"):
        even_clicks(0, ClickSettings(tempo_bpm=60))


def test_a_count_in_or_a_swing_out_of_range_is_refused():
    with refusal(TakeError, "count-in of 9 bars is out of range: give 0 to 8"):
        row(bar("G4 w"), count_in_bars=9)
    with refusal(TakeError, r"swing 0\.5 is out of range"):
        row(bar("G4 w"), swing=0.5)


def test_no_count_in_begins_at_once():
    clicks = row(bar("G4 w"), count_in_bars=0)
    assert (clicks.count_in, clicks.start_quarters) == ((), 0)


def test_tempo_is_exact_to_a_thousandth_of_a_beat_a_minute():
    assert row(bar("G4 w"), tempo_bpm=72.125).quarter_bpm == Fraction(577, 8)
