"""A line of music named note by note."""

from game.instrument.decoding.played import PlayedNote
from game.judging.verdicts import Verdict
from game.music.names import Spelling
from game.neck.neck_map import standard_map
from game.practice.letters_take import LettersTake
from tests.made import passage
from tests.practice.noted import Noted

F, F_SHARP, G = Spelling("F", 0), Spelling("F", 1), Spelling("G", 0)


def begun() -> LettersTake:
    return LettersTake(passage("F#4 h, G4 h", key=1), standard_map(), now_s=10.0, recorder=Noted())


def test_the_right_name_leads_on_and_is_written_down_with_the_note_it_was_given_for():
    take = begun()
    named = take.name(F_SHARP, 11.5)
    assert named is not None
    assert (named.n, named.verdict, named.time_to_find_ms) == (1, Verdict.CLEAN, 1500)
    assert take.asked is not None
    assert (take.asked.n, take.named, take.last_named) == (2, (named,), named)
    assert take._recorder.calls == [("named", 1, F_SHARP, 11.5)]


def test_a_wrong_name_stays_until_the_right_one_comes():
    take = begun()
    take.name(F, 11.0)
    assert take.given == (F,)
    take.name(F_SHARP, 12.0)
    assert take.given == ()
    assert take.named[0].verdict is not Verdict.CLEAN


def test_at_the_end_nothing_is_asked_and_a_name_is_neither_judged_nor_written_down():
    take = begun()
    take.name(F_SHARP, 11.0)
    take.name(G, 12.0)
    assert take.asked is None
    assert take.name(G, 13.0) is None
    assert take._recorder.kinds == ["named", "named"]


def test_the_players_own_word_counts_once_the_name_was_revealed_and_only_then():
    take = begun()
    assert take.confirm(said_right=True, now_s=11.0) is None
    assert take._recorder.calls == []
    take.reveal()
    assert take.revealed
    named = take.confirm(said_right=False, now_s=12.0)
    assert named is not None
    assert named.self_marked
    assert not take.revealed
    assert take._recorder.calls == [("said", 1, False, 12.0)]


def test_a_note_played_to_go_on_is_written_down_and_names_nothing():
    take = begun()
    played = PlayedNote(started_s=11.0, sounding=54, place=None)
    take.hear(played)
    assert (take.named, take._recorder.calls) == ((), [("played", played)])


def test_a_line_that_is_left_has_the_rest_unread_and_ends_once_in_the_log():
    take = begun()
    take.name(F_SHARP, 11.0)
    finished = take.end()
    assert [named.verdict for named in finished.named] == [Verdict.CLEAN, Verdict.UNREAD]
    assert take._recorder.calls[-1] == ("ended", finished)
