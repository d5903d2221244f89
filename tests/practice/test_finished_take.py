"""A take that is over, in figures."""

from dataclasses import replace

import pytest

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.letters import NamedNote
from game.judging.verdicts import Judgement, NoteVerdict, Verdict
from game.music.written import HeadId
from game.neck.neck_map import standard_map
from game.practice.finished_take import (
    NONE_OTHERWISE,
    FinishedNaming,
    FinishedTake,
    ShownOtherwise,
    clean_heads,
    owed_soundings,
    shown_otherwise,
)
from tests.made import passage

LINE = passage("F4 q, G4 q, A4 q, Bb4 q", "C5 h, D5 h")
EXPECTED = expected_notes(LINE.notes, standard_map())
C, E, L, W, P, M, U, Q = (
    Verdict.CLEAN, Verdict.EARLY, Verdict.LATE, Verdict.WRONG_PITCH, Verdict.OTHER_PLACE, Verdict.MISSED,
    Verdict.UNREAD, Verdict.UNSURE,
)  # fmt: skip


def finished(*verdicts: Verdict, found_ms: tuple[float | None, ...] = (), stage: Stage = Stage.PLACES) -> FinishedTake:
    times = [*found_ms, *[None] * (len(verdicts) - len(found_ms))]
    judgement = Judgement(
        verdicts=tuple(
            NoteVerdict(n=n, verdict=verdict, time_to_find_ms=time)
            for n, (verdict, time) in enumerate(zip(verdicts, times, strict=True), start=1)
        )
    )
    return FinishedTake(passage=LINE, expected=EXPECTED, judgement=judgement, stage=stage)


def test_notes_are_counted_as_asked_read_and_clean_where_early_and_late_are_clean():
    take = finished(C, E, L, W, P, U)
    assert (take.note_count, take.read_count, take.clean_count) == (6, 5, 3)
    assert finished(M, M, C, C, C, C).read_count == 6, "a missed note was read past"


def test_heads_turn_to_ink_where_pitch_and_place_were_right():
    assert finished(C, E, L, W, P, M).clean_heads == {HeadId(0, 0), HeadId(0, 1), HeadId(0, 2)}
    assert clean_heads(EXPECTED, []) == frozenset()


def test_tied_heads_are_clean_together():
    tied = expected_notes(passage("F4 h, G4 h ~", "~G4 w").notes, standard_map())
    assert clean_heads(tied, [NoteVerdict(n=2, verdict=C)]) == {HeadId(0, 1), HeadId(1, 0)}


def test_the_slowest_is_a_clean_note_with_a_time_and_never_the_first():
    take = finished(C, C, W, C, C, C, found_ms=(9000, 500, 8000, 1500, None, 700))
    assert take.slowest is not None
    assert take.slowest.n == 4
    assert finished(C, W, W, W, W, W, found_ms=(9000,)).slowest is None


@pytest.mark.parametrize("stage", Stage)
def test_rhythm_is_asked_for_where_the_stage_counts_it(stage: Stage):
    assert finished(C, C, C, C, C, C, stage=stage).timed is stage.rhythm_counts


def test_of_a_line_that_was_named_the_notes_named_at_the_first_try_are_clean():
    words = (C, W, U, U, U, U)
    naming = FinishedNaming(
        passage=LINE, named=tuple(NamedNote(n=n, verdict=verdict) for n, verdict in enumerate(words, start=1))
    )
    assert (naming.note_count, naming.read_count, naming.clean_count) == (6, 2, 1)
    assert naming.clean_heads == {HeadId(0, 0)}


def heard(*verdicts: Verdict, stage: Stage = Stage.TIME) -> FinishedTake:
    """Played notes behind all that were not missed or unread."""
    note = PlayedNote(started_s=0.0, sounding=53, place=None)
    take = finished(*verdicts, stage=stage)
    answered = tuple(
        replace(verdict, answers=() if verdict.verdict in (M, U) else (note,)) for verdict in take.judgement.verdicts
    )
    return replace(take, judgement=Judgement(verdicts=answered))


def test_owed_at_the_end_are_the_last_notes_that_nobody_played():
    assert owed_soundings(heard(C, C, M, C, M, M)) == (60, 62)
    assert owed_soundings(heard(C, C, C, C, C, L)) == ()
    assert owed_soundings(heard(C, C, C, C, M, M, stage=Stage.PLACES)) == (), "without a clock nothing comes late"
    assert owed_soundings(heard(C, U, U, U, U, U)) == (), "that was left, and not played to its end"
    assert owed_soundings(heard(M, M, M, M, M, M)) == ()


def test_what_the_page_showed_is_held_against_what_came_out():
    verdicts = heard(C, W, C, M, C, E).judgement.verdicts
    assert shown_otherwise({1: True, 2: True, 3: False, 4: False, 6: False}, verdicts) == ShownOtherwise(
        right=2, wrong=1
    )
    assert shown_otherwise({}, verdicts) == NONE_OTHERWISE


def test_right_notes_are_those_of_the_summary():
    take = finished(C, E, L, W, P, U)
    assert take.clean_count == take.summary.right_notes


def test_what_could_not_be_told_at_the_end_was_shown_neither_rightly_nor_wrongly():
    verdicts = [NoteVerdict(n=n, verdict=word) for n, word in enumerate((Q, Q, W, C), start=1)]
    assert shown_otherwise({1: True, 2: False, 3: True, 4: False}, verdicts) == ShownOtherwise(right=1, wrong=1)
    assert finished(C, Q, Q, C, U, U).read_count == 4
