"""A draft: two rows, pitches and where they begin, and the bars they come to."""

from fractions import Fraction

import pytest

from game.music.meter import Meter
from game.tunes.entering.draft import BarSigns, Draft, DraftOnset, DraftPitch, bar_line_from, moved_to_pickup


def draft_of(*onsets, settled=8, **head) -> Draft:
    row = tuple(DraftOnset(at=Fraction(at)) for at in onsets)
    pitches = tuple(DraftPitch(sounding=60) for _ in onsets)
    return Draft(pitches=pitches, onsets=row, settled=Fraction(settled), **head)


def test_a_note_lasts_until_the_next_or_to_its_rest_and_the_last_to_the_bar_line():
    draft = Draft(
        pitches=(DraftPitch(sounding=60),) * 3,
        onsets=(
            DraftOnset(at=Fraction(0), rest_at=Fraction(1)),
            DraftOnset(at=Fraction(2)),
            DraftOnset(at=Fraction(3)),
        ),
        settled=Fraction(4),
    )
    assert [draft.end_of(index) for index in range(3)] == [1, 3, 4]


def test_a_draft_is_complete_when_every_pitch_has_its_place():
    assert draft_of(0, 1).complete
    assert not Draft().complete
    assert not Draft(pitches=(DraftPitch(sounding=60),)).complete


@pytest.mark.parametrize(("at", "bar"), [(-1, -1), (0, 0), (3, 1), (Fraction(17, 2), 2)])
def test_bars_are_counted_from_the_first_bar_line(at, bar):
    assert draft_of(meter=Meter(3, 4)).bar_of(Fraction(at)) == bar


def test_a_pickup_bar_begins_where_the_music_does():
    draft = draft_of(pickup=Fraction(1))
    assert draft.bar_start(-1) == draft.start == -1
    assert draft.bar_start(2) == 8


def test_bar_lines_are_found_from_any_time():
    assert [bar_line_from(draft_of(), Fraction(at)) for at in (0, 1, 4, 5)] == [0, 4, 4, 8]


def test_another_pickup_moves_what_was_tapped_with_its_distances():
    moved = moved_to_pickup(draft_of(0, 1, 2, settled=4), Fraction(1))
    assert [onset.at for onset in moved.onsets] == [-1, 0, 1]
    assert moved.settled == 4


def test_a_pickup_before_anything_is_tapped_is_where_tapping_begins():
    assert moved_to_pickup(Draft(), Fraction(3, 2)).settled == Fraction(-3, 2)


def test_signs_of_a_bar_are_found_again_and_none_are_kept_as_none():
    draft = draft_of(0).with_signs(1, BarSigns(repeat_end=True)).with_signs(0, BarSigns(repeat_start=True))
    assert draft.signs_of(1).repeat_end
    assert draft.with_signs(1, BarSigns()).with_signs(0, BarSigns()).signs == ()
