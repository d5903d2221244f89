"""A draft as a page: bars, ties, spellings and signs come by themselves."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.music.keys import Key
from game.music.meter import Meter
from game.music.order import order_of_play
from game.music.pitch import pitch
from game.music.score import Note
from game.music.written import HeadId
from game.tunes.abc.chord_text import chord_of
from game.tunes.entering.draft import BarSigns, Draft, DraftOnset, DraftPitch
from game.tunes.entering.draft_score import draft_page, other_spelling, spellings
from tests.sampling import how_many
from tests.tunes.entering.made_drafts import made_draft


def pitches(*numbers) -> tuple[DraftPitch, ...]:
    return tuple(DraftPitch(sounding=number) for number in numbers)


def row(bar) -> list:
    return [(event.onset, event.length, event.pitch.name if isinstance(event, Note) else "r") for event in bar.events]


def test_pitches_without_a_rhythm_stand_one_to_a_beat():
    page = draft_page(Draft(pitches=pitches(48, 50, 52), meter=Meter(6, 8)))
    assert [row(bar) for bar in page.score.bars] == [
        [(0, Fraction(3, 2), "C4"), (Fraction(3, 2), Fraction(3, 2), "D4")],
        [(0, Fraction(3, 2), "E4"), (Fraction(3, 2), Fraction(3, 2), "r")],
    ]


def test_pitches_without_a_rhythm_follow_those_that_have_one():
    draft = Draft(pitches=pitches(48, 50), onsets=(DraftOnset(at=Fraction(0)),), settled=Fraction(4))
    assert [row(bar)[0] for bar in draft_page(draft).score.bars] == [(0, 4, "C4"), (0, 1, "D4")]


def test_a_note_over_the_bar_line_is_tied_and_both_heads_are_its_own():
    onsets = tuple(DraftOnset(at=Fraction(at)) for at in (0, 3, 5))
    page = draft_page(Draft(pitches=pitches(48, 50, 52), onsets=onsets, settled=Fraction(8)))
    assert page.heads == ((HeadId(0, 0),), (HeadId(0, 1), HeadId(1, 0)), (HeadId(1, 1),))
    assert page.score.bars[0].notes[1].tied_to_next
    assert page.pitch_at(HeadId(1, 0)) == 1
    assert page.pitch_at(HeadId(5, 0)) is None


def test_a_pickup_bar_is_the_bar_number_0():
    onsets = tuple(DraftOnset(at=Fraction(at)) for at in (-1, 0))
    page = draft_page(Draft(pitches=pitches(48, 50), onsets=onsets, settled=Fraction(4), pickup=Fraction(1)))
    assert [(bar.number, bar.length, bar.pickup) for bar in page.score.bars] == [("0", 1, True), ("1", 4, False)]


def test_a_pickup_bar_in_which_nothing_was_tapped_is_none():
    onsets = (DraftOnset(at=Fraction(0)),)
    page = draft_page(Draft(pitches=pitches(48), onsets=onsets, settled=Fraction(4), pickup=Fraction(1)))
    assert [bar.number for bar in page.score.bars] == ["1"]


@pytest.mark.parametrize(
    ("fifths", "numbers", "names"),
    [
        (0, (48, 49, 50), "C4 C#4 D4"),
        (0, (50, 49, 48), "D4 Db4 C4"),
        (-4, (48, 49, 56), "C4 Db4 Ab4"),
        (4, (52, 51, 49), "E4 D#4 C#4"),
    ],
)
def test_pitches_are_spelled_by_the_key_and_the_line(fifths, numbers, names):
    """An octave above their sound, as guitar music is written (trade)."""
    found = spellings(Draft(pitches=pitches(*numbers), key=Key(fifths)))
    assert " ".join(one.name for one in found) == names


def test_a_pitch_can_be_spelled_otherwise():
    draft = Draft(pitches=(DraftPitch(sounding=49, respelled=True),))
    assert spellings(draft)[0].name == "Db4"


@pytest.mark.parametrize(
    ("name", "other"), [("F#4", "Gb4"), ("Bb3", "A#3"), ("C5", "B#4"), ("E4", "Fb4"), ("D4", "C##4")]
)
def test_the_other_spelling_has_the_fewest_signs(name, other):
    assert other_spelling(pitch(name)).name == other
    assert other_spelling(pitch(name)).midi == pitch(name).midi


def test_all_pitches_can_be_moved_by_octaves():
    assert spellings(Draft(pitches=pitches(60), octaves=-1))[0].name == "C4"


def test_repeats_and_endings_are_played_as_they_are_meant():
    onsets = tuple(DraftOnset(at=Fraction(4 * bar)) for bar in range(4))
    draft = Draft(pitches=pitches(48, 50, 52, 53), onsets=onsets, settled=Fraction(16))
    signs = ((0, BarSigns(repeat_start=True)), (2, BarSigns(ending=1)), (3, BarSigns(ending=2)))
    bars = draft_page(replace(draft, signs=signs)).score.bars
    assert order_of_play(bars) == (0, 1, 2, 0, 1, 3)
    assert [bar.marks.endings for bar in bars] == [(), (), (1,), (2,)]


def test_an_ending_of_two_bars_is_one_bracket():
    onsets = tuple(DraftOnset(at=Fraction(4 * bar)) for bar in range(4))
    signs = tuple((bar, BarSigns(ending=ending)) for bar, ending in ((1, 1), (2, 1), (3, 2)))
    draft = Draft(pitches=pitches(48, 50, 52, 53), onsets=onsets, settled=Fraction(16), signs=signs)
    marks = [bar.marks for bar in draft_page(draft).score.bars]
    assert [(one.ending_starts, one.ending_stops) for one in marks[1:]] == [(True, False), (False, True), (True, True)]
    assert [one.repeat_end for one in marks] == [0, 0, 2, 0]


def test_chord_symbols_stand_in_the_bar_they_are_over():
    onsets = tuple(DraftOnset(at=Fraction(4 * bar)) for bar in range(2))
    chords = (chord_of("Gm7", Fraction(0)), chord_of("C7", Fraction(6)))
    draft = Draft(pitches=pitches(48, 50), onsets=onsets, settled=Fraction(8), chords=chords)
    bars = draft_page(draft).score.bars
    assert [(chord.text, chord.onset) for bar in bars for chord in bar.chords] == [("Gm7", 0), ("C7", 2)]


def test_every_value_on_a_page_is_as_long_as_it_says_and_bars_are_full():
    for seed in range(how_many(300, by_default=20)):
        page = draft_page(made_draft(seed))
        for bar in page.score.bars:
            assert sum(event.length for event in bar.events) == bar.length, seed
            for event in bar.events:
                assert event.value.length == event.length or getattr(event, "whole_bar", False), seed
