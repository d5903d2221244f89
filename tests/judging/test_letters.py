"""Naming the notes of a line."""

import pytest

from game.judging.letters import begin_naming, confirm_name, finish_naming, give_name, reveal_name
from game.judging.verdicts import Cause, Verdict
from game.music.names import Spelling
from tests.made import passage

LINE = passage("F#4 q, F#4 q, Bb4 q, C5 q", key=-1)


def name(*spellings):
    take = begin_naming(LINE.notes, now_s=0)
    result = None
    for index, (step, alter) in enumerate(spellings, start=1):
        take, result = give_name(take, Spelling(step, alter), now_s=float(index))
    return take, result


def test_enharmonic_names_are_told_apart_and_judged_as_written():
    take, result = name(("G", -1))
    assert (take.at, result.verdict) == (0, Verdict.WRONG_PITCH)


def test_a_right_name_moves_on_and_keeps_its_time():
    take, result = name(("F", 1), ("F", 1))
    assert (take.at, result.verdict, result.time_to_find_ms) == (2, Verdict.CLEAN, 1000)


def test_the_first_name_decides_and_the_line_waits_for_the_right_one():
    take, result = name(("F", 1), ("F", 0), ("F", 1))
    assert take.at == 2
    assert (result.verdict, result.cause) == (Verdict.WRONG_PITCH, Cause.ACCIDENTAL)
    assert result.given == (Spelling("F", 0), Spelling("F", 1))


@pytest.mark.parametrize(
    ("given", "cause"),
    [(("B", 0), Cause.SIGNATURE), (("A", 0), Cause.NEIGHBOUR), (("C", 0), Cause.NEIGHBOUR), (("E", 0), Cause.UNKNOWN)],
)
def test_a_wrong_name_has_its_cause(given, cause):
    _, result = name(("F", 1), ("F", 1), given)
    assert result.cause is cause


def test_a_revealed_name_is_no_evidence():
    take = reveal_name(begin_naming(LINE.notes, now_s=0))
    take, result = give_name(take, Spelling("F", 1), now_s=1)
    assert result.verdict is Verdict.HINTED


@pytest.mark.parametrize(("said_right", "verdict"), [(True, Verdict.CLEAN), (False, Verdict.WRONG_PITCH)])
def test_on_the_guitar_the_player_says_it_reveals_it_and_marks_it(said_right, verdict):
    take = reveal_name(begin_naming(LINE.notes, now_s=0))
    take, result = confirm_name(take, said_right=said_right, now_s=2)
    assert (result.verdict, result.self_marked, take.at) == (verdict, True, 1)


def test_nothing_is_confirmed_before_it_is_revealed():
    take, result = confirm_name(begin_naming(LINE.notes, now_s=0), said_right=True, now_s=1)
    assert (take.at, result) == (0, None)


def test_notes_not_named_are_unread():
    take, _ = name(("F", 1))
    assert [note.verdict for note in finish_naming(take)] == [Verdict.CLEAN] + [Verdict.UNREAD] * 3


def test_after_the_last_note_nothing_is_asked():
    take, result = name(("F", 1), ("F", 1), ("B", -1), ("C", 0), ("C", 0))
    assert (take.asked, result) == (None, None)
