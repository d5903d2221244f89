"""The steps of entering a tune, and the ways between them."""

from dataclasses import replace
from fractions import Fraction

from game.tunes.entering.draft import Draft, DraftOnset, DraftPitch
from game.tunes.entering.draft_file import read_draft, write_draft
from game.tunes.entering.entering import (
    MOST_STEPS_BACK,
    Entering,
    EntryStep,
    changed,
    gone_back,
    in_step,
    moved,
    open_bar,
    opened,
    pencil_at,
    with_draft,
    within,
)
from tests.sampling import how_many
from tests.tunes.entering.any_order import played_at_random
from tests.tunes.entering.made_taps import with_pitches


def tapped_draft(bars: int = 2) -> Draft:
    onsets = tuple(DraftOnset(at=Fraction(4 * bar)) for bar in range(bars))
    return Draft(pitches=(DraftPitch(sounding=60),) * bars, onsets=onsets, settled=Fraction(4 * bars))


def test_the_steps_go_round():
    assert [step.following for step in EntryStep] == [*list(EntryStep)[1:], EntryStep.HEAD]


def test_a_draft_is_taken_up_in_the_step_in_which_it_was_left():
    assert opened(Draft()).step is EntryStep.HEAD
    assert opened(with_pitches(3).draft).step is EntryStep.PITCHES
    assert opened(replace(tapped_draft(), pitches=(DraftPitch(sounding=60),) * 9)).step is EntryStep.RHYTHM
    assert opened(tapped_draft()).step is EntryStep.PAGE


def test_without_pitches_there_is_nothing_to_tap_or_to_correct():
    state = Entering(draft=Draft(), step=EntryStep.PITCHES)
    assert in_step(state, EntryStep.RHYTHM).step is EntryStep.HEAD
    assert in_step(Entering(draft=Draft()), EntryStep.PAGE).step is EntryStep.PITCHES


def test_the_pencil_stands_behind_the_last_pitch_and_at_the_first_bar_without_a_rhythm():
    assert with_pitches(3).bar == 0
    assert in_step(with_pitches(3), EntryStep.PITCHES).at == 3
    assert open_bar(tapped_draft()) == 2
    assert open_bar(Draft(pickup=Fraction(1))) == -1


def test_every_change_can_be_taken_back_one_by_one():
    state = Entering(draft=Draft())
    for number in range(3):
        state = with_draft(state, lambda draft, n=number: replace(draft, title=f"{n}"))
    assert state.draft.title == "2"
    assert gone_back(state).draft.title == "1"
    assert gone_back(gone_back(state)).draft.title == "0"
    assert gone_back(Entering(draft=Draft())) == Entering(draft=Draft())


def test_what_changes_nothing_is_no_step_to_go_back():
    state = Entering(draft=Draft())
    assert changed(state, Draft()).before == ()


def test_the_ways_back_have_a_bound():
    state = Entering(draft=Draft())
    for number in range(MOST_STEPS_BACK + 20):
        state = changed(state, Draft(title=str(number)))
    assert len(state.before) == MOST_STEPS_BACK


def test_the_pencil_stays_among_the_notes_and_the_bars():
    page = opened(tapped_draft())
    assert moved(page, 5).at == 1
    assert moved(page, -5).at == 0
    rhythm = in_step(page, EntryStep.RHYTHM)
    assert moved(rhythm, 9).bar == rhythm.bar == 2
    assert moved(rhythm, -9).bar == 0
    assert within(replace(page, at=-3)).at == 0
    assert pencil_at(page, 1).at == 1
    assert pencil_at(in_step(page, EntryStep.PITCHES), 1).at == 2
    assert pencil_at(rhythm, 1).bar == 1
    assert pencil_at(with_pitches(3), 1) == with_pitches(3)
    assert rhythm.bar_start == 8


def test_whatever_is_done_in_whatever_order_the_draft_can_be_printed_and_kept(tmp_path):
    """Played, taken back, tapped in any way, corrected, put into another metre: bars are full, values as long as they
    say, and the file holds all of it.
    """
    for seed in range(how_many(2000, by_default=10)):
        draft = played_at_random(seed).draft
        write_draft(tmp_path / "any.draft.json", draft)
        pitches = tuple(replace(pitch, heard=(), stood=None) for pitch in draft.pitches)
        assert read_draft(tmp_path / "any.draft.json") == replace(draft, pitches=pitches), seed
