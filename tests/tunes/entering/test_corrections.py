"""Corrections on the page, note by note."""

from dataclasses import replace
from fractions import Fraction

from game.tunes.entering.corrections import inserted, lengthened, rubbed_out
from game.tunes.entering.draft import Draft, DraftOnset, DraftPitch
from game.tunes.entering.draft_score import draft_page
from game.tunes.entering.entering import Entering, EntryStep, gone_back


def on_page(*onsets, at=0, settled=4) -> Entering:
    row = tuple(DraftOnset(at=Fraction(one)) if not isinstance(one, tuple) else _rests(*one) for one in onsets)
    pitches = tuple(DraftPitch(sounding=60 + number) for number in range(len(onsets)))
    return Entering(draft=Draft(pitches=pitches, onsets=row, settled=Fraction(settled)), step=EntryStep.PAGE, at=at)


def _rests(at, rest_at) -> DraftOnset:
    return DraftOnset(at=Fraction(at), rest_at=Fraction(rest_at))


def row(state) -> list:
    return [(onset.at, onset.rest_at) for onset in state.draft.onsets]


def test_a_longer_note_takes_from_the_next_and_a_shorter_one_gives_to_it():
    longer = lengthened(on_page(0, 1, 2), 1)
    assert row(longer) == [(0, None), (Fraction(3, 2), None), (2, None)]
    assert row(lengthened(longer, -1)) == row(on_page(0, 1, 2))


def test_a_note_leaves_the_next_something():
    state = lengthened(on_page(0, 1, Fraction(3, 2)), 1)
    assert state.said.key == "writing.no_room"
    assert row(state) == row(on_page(0, 1, Fraction(3, 2)))


def test_a_note_stays_a_note():
    assert lengthened(on_page(0, Fraction(1, 2)), -1).said.key == "writing.no_shorter"


def test_fine_steps_are_sixteenths_and_triplets():
    state, ends = on_page(0, 1, 2), []
    for _ in range(4):
        state = lengthened(state, -1, fine=True)
        ends.append(state.draft.end_of(0))
    assert ends == [Fraction(3, 4), Fraction(2, 3), Fraction(1, 2), Fraction(1, 3)]


def test_a_rest_gives_and_takes_before_the_next_note_does():
    state = lengthened(on_page((0, 1), 2), 1)
    assert row(state) == [(0, Fraction(3, 2)), (2, None)]
    state = lengthened(state, 1)
    assert row(state) == [(0, None), (2, None)]
    assert row(lengthened(on_page((0, 1), 2), -1)) == [(0, Fraction(1, 2)), (2, None)]


def test_the_last_note_is_shortened_to_a_rest_and_grows_into_bars_of_its_own():
    shorter = lengthened(on_page(0), -1)
    assert row(shorter) == [(0, Fraction(7, 2))]
    longer = lengthened(on_page(0), 1)
    assert longer.draft.settled == 8
    assert longer.draft.end_of(0) == Fraction(9, 2)
    assert len(draft_page(longer.draft).score.bars) == 2


def test_a_note_that_is_rubbed_out_leaves_a_rest():
    state = rubbed_out(on_page(0, 1, 2, at=1))
    assert row(state) == [(0, 1), (2, None)]
    assert [pitch.sounding for pitch in state.draft.pitches] == [60, 62]
    assert row(rubbed_out(on_page(0, 1))) == [(1, None)]
    assert row(gone_back(state)) == row(on_page(0, 1, 2))


def test_rubbing_out_goes_on_until_nothing_is_left():
    state = on_page(0, 1, 2, at=2)
    for _ in range(5):
        state = rubbed_out(state)
    assert state.draft.pitches == state.draft.onsets == ()
    assert state.at == 0


def test_a_note_is_inserted_in_the_second_half_of_another():
    state = inserted(on_page(0, 2, at=0))
    assert row(state) == [(0, None), (1, None), (2, None)]
    assert [pitch.sounding for pitch in state.draft.pitches] == [60, 60, 61]
    assert state.at == 1


def test_a_dotted_note_is_divided_in_two_parts_and_one():
    assert [at for at, _ in row(inserted(on_page(0, Fraction(3, 2))))] == [0, 1, Fraction(3, 2)]


def test_the_rest_behind_a_note_stays_behind_what_is_inserted():
    assert row(inserted(on_page((0, 2), 3))) == [(0, None), (1, 2), (3, None)]


def test_the_shortest_note_is_not_divided():
    assert inserted(on_page(0, Fraction(1, 8))).said.key == "writing.no_room"


def test_pitches_without_a_rhythm_come_and_go_alone():
    state = replace(on_page(0, at=1), draft=Draft(pitches=(DraftPitch(sounding=60),) * 2))
    assert len(inserted(state).draft.pitches) == 3
    assert len(rubbed_out(state).draft.pitches) == 1
    assert lengthened(state, 1).said.key == "writing.no_rhythm_yet"


def test_without_a_note_there_is_nothing_to_correct():
    empty = Entering(draft=Draft(), step=EntryStep.PAGE)
    assert inserted(empty) == rubbed_out(empty) == empty
