"""Untimed takes: in order, staying on the note until it is right, or going on anyway."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.simulated import MIDDLING, Mistake, SimulatedPlayer
from game.judging.expected import expected_notes
from game.judging.summary import summary_of
from game.judging.untimed import HintStep, UntimedRules, begin, finish, hear, hint, judge_untimed
from game.judging.verdicts import Cause, Verdict
from game.music.pitch import pitch
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from tests.instrument.simulated_takes import FLAWLESS, play_untimed
from tests.made import passage

MAP = standard_map()
TUNE = passage("F4 q, G4 q, A4 q, Bb4 q", "C5 h, F4 h", key=-1)
EXPECTED = expected_notes(TUNE.notes, MAP)


def played(name, at_s=0.0, place=None):
    """A note by its written name, at its home unless a place is given."""
    sounding = pitch(name).midi - 12
    home = MAP.home_of(sounding)
    return PlayedNote(started_s=at_s, sounding=sounding, place=place or (home.place if home else None))


def take(*notes, rules=None, started_s=0.0):
    state = begin(EXPECTED, now_s=started_s, rules=rules)
    for note in notes:
        state, _ = hear(state, note)
    return state


def words(judgement):
    return [verdict.verdict.value for verdict in judgement.verdicts]


def row(*names):
    return [played(name, at_s=float(index)) for index, name in enumerate(names, start=1)]


def test_a_flawless_take_is_clean_throughout():
    assert words(finish(take(*row("F4", "G4", "A4", "Bb4", "C5", "F4")))) == ["clean"] * 6


def test_the_page_waits_until_the_pitch_is_played_and_keeps_every_try():
    state = take(*row("F4", "A4", "G#4", "G4"))
    assert state.at == 2
    verdict = finish(state).verdicts[1]
    assert verdict.verdict is Verdict.WRONG_PITCH
    assert [note.sounding for note in verdict.answers] == [57, 56, 55]
    assert verdict.cause is Cause.NEIGHBOUR


def test_the_time_to_find_runs_from_the_answer_before_to_the_right_pitch():
    state = take(played("F4", 1.5), played("A4", 2.0), played("G4", 4.0))
    assert [v.time_to_find_ms for v in finish(state).verdicts[:2]] == [1500, 2500]


def test_a_note_never_found_has_no_time_to_find():
    assert finish(take(played("F4", 1), played("A4", 2))).verdicts[1].time_to_find_ms is None


def test_the_right_pitch_in_another_place_is_answered_and_the_page_moves_on():
    elsewhere = Place(5, 8)  # F3 sounding has its home at string 5 fret 8; here at string 4 fret 3
    assert MAP.home_of(53).place == elsewhere
    state = take(played("F4", 1, Place(4, 3)))
    assert state.at == 1
    assert words(finish(state))[0] == "other place"


def test_a_stricter_setting_waits_for_the_home():
    state = take(played("F4", 1, Place(4, 3)), rules=UntimedRules(wants_home=True))
    assert state.at == 0
    state, answered = hear(state, played("F4", 2))
    assert answered.moved_on
    assert words(finish(state))[0] == "other place"


def test_without_strings_the_place_is_not_judged():
    note = PlayedNote(started_s=1, sounding=53, place=None)
    assert words(finish(take(note)))[0] == "clean"


def test_only_the_octave_wrong_is_told_and_waits():
    state = take(played("F5", 1))
    verdict = finish(state).verdicts[0]
    assert (verdict.verdict, verdict.octave_off, verdict.cause) == (Verdict.WRONG_PITCH, True, Cause.OCTAVE)
    assert state.at == 0


def test_going_on_anyway_moves_on_after_a_wrong_note():
    state = take(*row("F4", "A4", "A4", "Bb4", "C5", "F4"), rules=UntimedRules(waits=False))
    assert state.done
    assert words(finish(state)) == ["clean", "wrong pitch", "clean", "clean", "clean", "clean"]


def test_going_on_anyway_an_extra_note_does_not_spoil_its_neighbours():
    """Live, each note after the extra one answered the wrong question; the final judgement aligns the whole take."""
    state = take(*row("F4", "E4", "G4", "A4", "Bb4", "C5"), rules=UntimedRules(waits=False))
    assert [v.verdict.value for v in state.live].count("wrong pitch") == 5
    assert words(finish(state)) == ["clean", "wrong pitch", "clean", "clean", "clean", "unread"]


def test_help_is_never_evidence_of_knowing_and_a_wrong_note_stays_wrong():
    state = hint(begin(EXPECTED, now_s=0), HintStep.LETTER)
    state, _ = hear(state, played("F4", 6))
    state = hint(state, HintStep.PLACE)
    state, _ = hear(state, played("A4", 7))
    assert words(finish(state))[:2] == ["hinted", "wrong pitch"]


def test_help_once_given_is_not_taken_back():
    state = hint(hint(begin(EXPECTED, now_s=0), HintStep.PLACE), HintStep.LETTER)
    assert state.hint is HintStep.PLACE


def test_help_does_not_outlive_its_note():
    state, _ = hear(hint(begin(EXPECTED, now_s=0), HintStep.LETTER), played("F4", 1))
    assert state.hint is HintStep.NONE


def test_notes_not_reached_are_unread_and_left_out_of_the_share():
    judgement = finish(take(*row("F4", "G4")))
    assert words(judgement) == ["clean", "clean", "unread", "unread", "unread", "unread"]
    summary = summary_of(judgement, EXPECTED)
    assert summary.clean_share == 1
    assert not summary.kept_going


def test_a_note_without_a_home_is_taken_in_any_place_and_kept_out_of_the_share():
    expected = expected_notes(passage("E6 h, G4 h").notes, MAP)
    assert expected[0].home is None
    judgement = judge_untimed(expected, [played("E6", 1, Place(1, 12)), played("A4", 2)])
    assert words(judgement) == ["clean", "wrong pitch"]
    assert summary_of(judgement, expected).clean_share == 0


def test_after_the_last_note_nothing_is_asked():
    state, answered = hear(take(*row("F4", "G4", "A4", "Bb4", "C5", "F4")), played("F4", 9))
    assert answered is None
    assert finish(state).extra == ()


def test_a_summary_of_nothing_has_no_share():
    assert summary_of(finish(take()), EXPECTED).clean_share is None


@pytest.mark.parametrize("seed", range(12))
def test_a_simulated_player_is_judged_to_have_made_just_the_mistakes_it_made(seed):
    player = SimulatedPlayer(homes=MAP.places, shares=MIDDLING)
    notes = passage("F4 e, G4 e, A4 e, Bb4 e, C5 e, D5 e, E5 e, F5 e", "F#4 q, G4 q, Bb4 q, C#5 q", key=-1).notes
    answers = play_untimed(player, notes, started_s=0.0, rng=Random(seed))
    state = begin(expected_notes(notes, MAP), now_s=0.0)
    for answer in answers:
        state, _ = hear(state, answer.note)
    made = {answer.n: answer.mistake for answer in answers if answer.mistake}
    for verdict in finish(state).verdicts:
        mistake = made.get(verdict.n)
        wanted = {None: Verdict.CLEAN, Mistake.OTHER_PLACE: Verdict.OTHER_PLACE}.get(mistake, Verdict.WRONG_PITCH)
        assert verdict.verdict is wanted, (verdict.n, mistake)


@given(st.integers(0, 10_000), st.floats(-1000, 1000))
def test_shifting_a_whole_take_changes_nothing(seed, shift_s):
    player = SimulatedPlayer(homes=MAP.places, shares=MIDDLING)
    answers = play_untimed(player, TUNE.notes, started_s=0.0, rng=Random(seed))
    notes = [answer.note for answer in answers]
    shifted = [PlayedNote(started_s=n.started_s + shift_s, sounding=n.sounding, place=n.place) for n in notes]
    here, there = judge_untimed(EXPECTED, notes, started_s=0.0), judge_untimed(EXPECTED, shifted, started_s=shift_s)
    assert words(here) == words(there)
    for one, other in zip(here.verdicts, there.verdicts, strict=True):
        assert one.time_to_find_ms == pytest.approx(other.time_to_find_ms, abs=1e-3)


@given(st.integers(0, 10_000))
def test_the_recording_of_a_take_on_a_waiting_page_is_judged_as_the_page_judged_it(seed):
    player = SimulatedPlayer(homes=MAP.places, shares=MIDDLING)
    notes = [answer.note for answer in play_untimed(player, TUNE.notes, started_s=0.0, rng=Random(seed))]
    assert words(judge_untimed(EXPECTED, notes)) == words(finish(take(*notes)))


def test_a_flawless_simulated_player_is_clean():
    player = SimulatedPlayer(homes=MAP.places, shares=FLAWLESS)
    answers = play_untimed(player, TUNE.notes, started_s=0.0, rng=Random(1))
    assert words(finish(take(*[answer.note for answer in answers]))) == ["clean"] * 6
