"""Takes that nothing listens to: the player says of each note whether it was right."""

from game.coach.stages import Stage
from game.judging.verdicts import Cause, Verdict
from game.neck.neck_map import standard_map
from game.practice.self_marked_take import RhythmTerms, SelfMarkedTake, marked_afterwards, marked_verdict
from tests.made import passage
from tests.practice.noted import Noted

MAP = standard_map()
LINE = passage("F4 q, G4 q, A4 h")


def begun() -> SelfMarkedTake:
    return SelfMarkedTake(passage=LINE, neck_map=MAP, now_s=10.0, recorder=Noted())


def test_a_note_is_marked_once_it_was_revealed_and_the_search_ended_there():
    take = begun()
    assert take.mark(right=True, now_s=11.0) is None
    take.reveal(12.0)
    take.reveal(15.0)
    verdict = take.mark(right=True, now_s=16.0)
    assert verdict is not None
    assert (verdict.n, verdict.verdict, verdict.time_to_find_ms) == (1, Verdict.CLEAN, 2000)
    assert take.asked is not None
    assert (take.asked.n, take.revealed) == (2, False)
    take.reveal(17.0)
    assert take.mark(right=True, now_s=18.0).time_to_find_ms == 1000, "looked for since the note before was marked"


def test_a_wrong_note_has_no_cause_and_no_time_for_nobody_heard_it():
    take = begun()
    take.reveal(12.0)
    verdict = take.mark(right=False, now_s=13.0)
    assert (verdict.verdict, verdict.cause, verdict.time_to_find_ms) == (Verdict.WRONG_PITCH, Cause.UNKNOWN, None)


def test_a_take_that_is_left_has_the_rest_unread():
    take = begun()
    take.reveal(12.0)
    take.mark(right=True, now_s=13.0)
    finished = take.end()
    assert [verdict.verdict for verdict in finished.judgement.verdicts] == [
        Verdict.CLEAN,
        Verdict.UNREAD,
        Verdict.UNREAD,
    ]
    assert take.recorder.calls == [("said", 1, True, 13.0), ("ended", finished)]


def test_after_the_last_note_nothing_is_asked_and_nothing_can_be_marked():
    take = begun()
    for at_s in (12.0, 14.0, 16.0):
        take.reveal(at_s)
        take.mark(right=True, now_s=at_s + 1)
    assert take.asked is None
    take.reveal(20.0)
    assert take.mark(right=True, now_s=21.0) is None
    assert take.so_far().clean_count == 3


def test_a_take_in_rhythm_is_marked_as_a_whole_when_it_is_over():
    recorder = Noted()
    terms = RhythmTerms(stage=Stage.TIME, tempo_bpm=72.0)
    finished = marked_afterwards(LINE, MAP, terms, {1: True, 2: False, 3: True}, now_s=30.0, recorder=recorder)
    assert (finished.stage, finished.tempo_bpm, finished.clean_count) == (Stage.TIME, 72.0, 2)
    assert finished.judgement.verdicts[1] == marked_verdict(finished.expected[1], right=False)
    assert recorder.calls == [
        ("said", 1, True, 30.0),
        ("said", 2, False, 30.0),
        ("said", 3, True, 30.0),
        ("ended", finished),
    ]
