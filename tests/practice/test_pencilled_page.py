"""What the page shows of a take while it is played."""

from game.judging.expected import expected_notes
from game.judging.verdicts import NoteVerdict, Verdict
from game.neck.neck_map import standard_map
from game.practice.pencilled_page import PencilledPage
from tests.made import passage

NOTES = expected_notes(passage("F4 q, G4 q, A4 q, Bb4 q").notes, standard_map())
C, L, W, M = Verdict.CLEAN, Verdict.LATE, Verdict.WRONG_PITCH, Verdict.MISSED


def told(page: PencilledPage, *words: Verdict, farthest: int = 4) -> list[int]:
    judged = [(note, NoteVerdict(n=note.n, verdict=word)) for note, word in zip(NOTES, words, strict=False)]
    return [note.n for note, _ in page.to_pencil(judged, farthest=farthest)]


def test_a_note_is_missed_when_a_later_one_was_played():
    assert told(PencilledPage(), C, M, M, M, farthest=3) == [1, 2, 3]


def test_a_verdict_may_turn_once_and_is_left_out_when_it_turns_back():
    page = PencilledPage()
    assert [told(page, word) for word in (W, C, C, W, C)] == [[1], [1], [1], [], []]
    assert page.shown_right == {1: True}


def test_late_and_clean_are_both_right_and_no_turn():
    page = PencilledPage()
    assert [told(page, word) for word in (L, C, L, C)] == [[1]] * 4


def test_what_could_not_be_told_turns_nothing_round():
    page, unsure = PencilledPage(), Verdict.UNSURE
    assert [told(page, word) for word in (unsure, C, unsure, C)] == [[1]] * 4
    assert page.shown_right == {1: True}
