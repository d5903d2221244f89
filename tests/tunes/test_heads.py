"""The heads of our own: forms of common practice, keys of common practice, and the figures of heads that are played.

The limits were measured on lead sheets in the public domain and on heads as they are played, November 2026: notes a
bar, syncopations, rests, runs of eighths, what comes back, where phrases begin, chord tones and chromatic notes.
"""

from collections import Counter
from collections.abc import Callable
from functools import cache
from statistics import mean

import pytest

from game.music.score import Jump
from game.music.written import written_out
from game.tunes.library.library import open_entry, shipped_entries
from tests.tunes.head_figures import (
    Excerpt,
    chord_tones_on_strong_beats,
    chromatic_share,
    compass,
    head_excerpts,
    longest_eighths,
    notes_a_bar,
    phrase_starts,
    rest_share,
    rhythm_returns,
    shared_notes,
    shared_rhythms,
    syncopations,
    three_intervals_return,
)

ENTRIES = {entry.name: entry for entry in shipped_entries()}

# Each head with its kind and, where sections of eight bars come back, their letters in order of play.
HEADS = {
    "66-left-on-the-stove": ("blues", ""),
    "67-gravel-and-cream": ("blues", ""),
    "68-a-button-short": ("blues", ""),
    "69-the-landlords-ladder": ("blues", ""),
    "70-the-crooked-kettle": ("blues", ""),
    "71-wet-slate-dry-shoes": ("minor blues", ""),
    "72-tin-roof-arithmetic": ("minor blues", ""),
    "73-biscuit-tin-parade": ("rhythm changes", "AABA"),
    "74-sparks-from-the-tram": ("rhythm changes", "AABA"),
    "75-elbows-on-the-tablecloth": ("rhythm changes", "AABA"),
    "76-sunday-coat-on-a-tuesday": ("song", "AABA"),
    "77-spoons-in-the-wrong-drawer": ("song", "AABA"),
    "78-letter-to-the-lamplighter": ("song", "AABA"),
    "79-the-light-over-the-sink": ("song", "AABA"),
    "80-a-pocketful-of-chalk": ("song", "AABA"),
    "81-the-last-boat-but-one": ("song", "ABAC"),
    "82-the-borrowed-bicycle": ("song", "ABAC"),
    "83-winter-orchard-road": ("song", "ABAC"),
    "84-shutters-before-noon": ("bossa", "AABA"),
    "85-sails-of-tracing-paper": ("bossa", "ABAC"),
    "86-rain-on-the-car-deck": ("bossa", "ABAB"),
    "87-a-stool-with-three-legs": ("waltz", "ABAC"),
    "88-the-ninth-stair-creaks": ("waltz", "AABA"),
    "89-an-hour-of-copper": ("modal", "AABA"),
}
DENSE = ("69", "72", "74", "80")
Figure = Callable[[Excerpt], float]


@cache
def score_of(name):
    return open_entry(ENTRIES[name])


@cache
def excerpts_of(name):
    return head_excerpts(score_of(name))


def mean_of(name: str, figure: Figure) -> float:
    return mean(figure(part) for part in excerpts_of(name))


def outside(figure: Figure, low: float, high: float, names=HEADS) -> dict[str, float]:
    """The heads whose figure lies outside the limits, which are inside."""
    found = {name: mean_of(name, figure) for name in names}
    return {name: round(value, 3) for name, value in found.items() if not low - 1e-9 <= value <= high + 1e-9}


def dense(name: str) -> bool:
    return name.startswith(DENSE)


def test_the_figures_are_those_counted_by_hand():
    """Bars 1 to 8 of number 66, pencil in hand: 5, 4, 6, 2, 4, 3, 5 and 4 notes; struck off the beat and held over it
    are the last note of bar 3, the third of bar 5 and the last of bar 6; rests are five eighths at bar lines, one in
    bar 4 and a quarter in bar 6; bars 7 and 8 go as 1 and 2; E flat twice and C sharp are outside of C; on 1 and 3 all
    notes are chord tones but the A of bars 1, 3 and 7; phrases begin in bars 3, 4 and 7 after two beats or more.
    """
    part = excerpts_of("66-left-on-the-stove")[0]
    assert notes_a_bar(part) == 33 / 8
    assert syncopations(part) == 3 / 8
    assert rest_share(part) == 4 / 32
    assert longest_eighths(part) == 3 / 33
    assert rhythm_returns(part) == 2 / 7
    assert chromatic_share(part) == 3 / 33
    assert chord_tones_on_strong_beats(part) == 5 / 8
    assert [float(start) for start in phrase_starts(part)] == [0.5, 2, 0.5]


def test_there_are_24_heads_of_eight_kinds():
    kinds = Counter(kind if kind != "song" else form for kind, form in HEADS.values())
    assert kinds == {
        "blues": 5,
        "minor blues": 2,
        "rhythm changes": 3,
        "AABA": 5,
        "ABAC": 3,
        "bossa": 3,
        "waltz": 2,
        "modal": 1,
    }


def test_they_stand_in_the_keys_that_are_played_most_and_six_in_minor():
    keys = Counter(ENTRIES[name].key for name in HEADS)
    assert {"Bb", "F", "Eb", "C", "Ab", "Db", "Gm", "Dm", "Cm", "Fm"} <= set(keys)
    assert sum(count for key, count in keys.items() if key.endswith("m")) >= 6


@pytest.mark.parametrize(("name", "form"), [(name, form) for name, (_, form) in HEADS.items()])
def test_a_head_is_as_long_as_its_form(name, form):
    """Twelve bars of blues, with an ending for the second time or not; eight bars for each letter of the others."""
    played = sum(not bar.pickup for bar in written_out(score_of(name)).bars)
    assert played == 8 * len(form) if form else played in (12, 24)


@pytest.mark.parametrize("name", HEADS)
def test_a_head_is_a_lead_sheet(name):
    """Boxed sections, a chord over every section, a word for the feel, a final bar line."""
    score = score_of(name)
    kind, form = HEADS[name]
    sections = [bar.marks.section for bar in score.bars if bar.marks.section]
    assert sections[0] == "A"
    assert set(sections) == set(form or "A")
    assert all(bar.chords for bar in score.bars if bar.marks.section)
    assert score.swung is (kind != "bossa")
    assert score.bars[-1].marks.divides


def test_charts_repeat_by_signs_endings_and_jumps():
    marks = [[bar.marks for bar in score_of(name).bars] for name in HEADS]
    assert sum(any(mark.endings == (2,) for mark in page) for page in marks) >= 12
    jumps = [{mark.jump for mark in page if mark.jump} for page in marks]
    assert jumps.count({Jump.DAL_SEGNO}) >= 2
    assert jumps.count({Jump.DA_CAPO}) >= 1
    assert sum(any(mark.coda for mark in page) for page in marks) >= 3


def test_notes_a_bar():
    """Four heads are as dense as solos, the others as songs."""
    assert outside(notes_a_bar, 3, 4.5, [name for name in HEADS if not dense(name)]) == {}
    assert outside(notes_a_bar, 5.6, 7.4, [name for name in HEADS if dense(name)]) == {}


def test_syncopations_a_bar():
    assert outside(syncopations, 0.38, 0.88, [name for name in HEADS if not dense(name)]) == {}
    assert outside(syncopations, 0.25, 0.62, [name for name in HEADS if dense(name)]) == {}


@pytest.mark.parametrize(
    ("figure", "low", "high"),
    [
        (rest_share, 0.05, 0.20),
        (longest_eighths, 0, 0.25),
        (rhythm_returns, 0.14, 0.43),
        (three_intervals_return, 0.2, 1),
        (chromatic_share, 0.05, 0.20),
        (chord_tones_on_strong_beats, 0.6, 0.9),
    ],
    ids=lambda value: value.__name__ if callable(value) else None,
)
def test_what_a_head_is_like(figure, low, high):
    assert outside(figure, low, high) == {}


@pytest.mark.parametrize("name", HEADS)
def test_phrases_start_off_the_beat(name):
    starts = [start for part in excerpts_of(name) for start in phrase_starts(part)]
    assert sum(start % 1 != 0 for start in starts) >= 0.28 * len(starts) > 0


@pytest.mark.parametrize("name", HEADS)
def test_a_head_stays_within_an_octave_and_a_fifth(name):
    assert compass(score_of(name)) <= 19


@pytest.mark.parametrize(("name", "form"), [(name, form) for name, (_, form) in HEADS.items() if form])
def test_a_section_comes_back_and_the_bridge_is_another(name, form):
    parts = excerpts_of(name)
    first, *again = [part for part, letter in zip(parts, form, strict=True) if letter == "A"]
    assert all(shared_notes(first, other) >= 0.7 for other in again)
    bridges = [part for part, letter in zip(parts, form, strict=True) if letter != "A"]
    assert all(shared_rhythms(bridge, first) <= 0.5 for bridge in bridges)


def test_the_densest_have_triplets_and_a_bar_in_double_time():
    values = {name: [note.value for bar in score_of(name).bars for note in bar.notes] for name in HEADS}
    assert sum(any(value.tuplet for value in of) for of in values.values()) >= 5
    assert sum(sum(value.length == 0.25 for value in of) >= 4 for of in values.values()) >= 3


def test_heads_go_from_easy_to_dense():
    order = sorted(HEADS, key=lambda name: ENTRIES[name].difficulty)
    assert ENTRIES[order[0]].difficulty < 2.7
    assert ENTRIES[order[-1]].difficulty > 3.7
