"""What a result tells below its page."""

from game.coach.stages import Stage
from game.judging.verdicts import EventKind, Verdict
from game.music.names import NoteNames
from game.neck.neck_map import standard_map
from game.practice.letters_take import LettersTake
from game.screens.reading.result_words import result_words, run_underline
from game.screens.reading.why_in_words import is_clean_take
from game.text.catalogue import tell
from tests.made import passage
from tests.screens.reading.test_time_in_words import LINE, drifting, made, steady

CLEAN, WRONG = Verdict.CLEAN, Verdict.WRONG_PITCH


def words(finished):
    return result_words(finished, "On.", NoteNames.ENGLISH)


def test_the_three_counts_stand_in_one_row_with_cause_and_advice_below():
    said = words(steady())
    assert [(count.figure, count.what.key) for count in said.counts] == [
        (16, "count.right"),
        (16, "count.in_time"),
        (4, "count.kept_going"),
    ]
    assert (said.why, said.now) == ("All 16, and steady.", "On.")


def test_beside_stands_what_neither_counts_nor_cause_tell():
    assert words(drifting(-3, EventKind.RAN_AHEAD)).beside == ()
    assert words(steady(offset_ms=-30.0)).beside == ("All 16 in time: you lean early.",)
    free = words(steady(tempo_bpm=None, usual_bpm=84.0))
    assert free.beside == ("Your own pace was about 84 quarter notes a minute.",)


def test_of_a_line_that_was_not_named_there_is_no_count():
    said = words(LettersTake(passage("F4 w"), standard_map(), now_s=0.0).so_far())
    assert (said.counts, said.why) == ((), "Nothing was read this time.")


def test_a_run_is_underlined_from_its_first_head_to_its_last_and_three_notes_are_none():
    assert run_underline(steady()).words == "all 16 in one run"
    assert len(run_underline(steady()).heads) == len(LINE.notes)
    five = run_underline(made([CLEAN] * 5 + [WRONG] * 11, [0.0] * 5 + [None] * 11))
    assert five.heads == tuple(head for note in LINE.notes[:5] for head in note.heads)
    assert run_underline(made([CLEAN] * 3 + [WRONG] * 13, [0.0] * 3 + [None] * 13)) is None


def test_what_could_not_be_told_is_said_beside_the_counts_and_counts_for_nothing():
    unsure = [Verdict.UNSURE] * 2
    timed = words(made([CLEAN] * 14 + unsure, [0.0] * 14 + [None] * 2))
    assert [str(count.figure) + count.of.key for count in timed.counts][:2] == ["14count.of"] * 2
    assert (timed.why, timed.beside) == (
        "All 14, and steady.",
        ("Two notes could not be heard surely and do not count.",),
    )
    places = words(made([CLEAN] * 15 + unsure[:1], [None] * 16, stage=Stage.PLACES, tempo_bpm=None))
    assert places.beside == ()
    assert [tell(count.what) for count in places.counts] == ["right notes; one could not be heard surely"]


def test_of_a_take_of_which_too_much_could_not_be_told_that_alone_is_said():
    """However right the rest was."""
    for heard in (12, 5, 0):
        take = made([CLEAN] * heard + [Verdict.UNSURE] * (16 - heard), [0.0] * heard + [None] * (16 - heard))
        assert "could not be heard surely and do not count." in words(take).why
        assert words(take).beside.count(words(take).why) == 0
        assert run_underline(take) is None
        assert not is_clean_take(take)
    assert is_clean_take(made([CLEAN] * 13 + [Verdict.UNSURE] * 3, [0.0] * 13 + [None] * 3))
