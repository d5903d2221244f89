"""What the pencil writes for a verdict."""

from dataclasses import replace

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.letters import begin_naming, finish_naming, give_name
from game.judging.untimed import begin, finish, hear, judge_untimed
from game.judging.verdicts import EventKind, NoteVerdict, TakeEvent, Verdict
from game.music.keys import Key
from game.music.meter import Meter
from game.music.names import NoteNames, Spelling
from game.music.score import Bar, Reading
from game.music.written import HeadId
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.practice.finished_take import FinishedTake
from game.practice.pencilled import (
    MissedMark,
    NameMark,
    OffTimeMark,
    PaceMark,
    PlacedMark,
    PlaceMark,
    PlayedHead,
    SaidWrongMark,
    UnsureMark,
    count_marks,
    marks_of,
    marks_of_take,
    name_marks,
    pace_marks,
)
from tests.made import bar, passage

MAP = standard_map()


def finished(row, *played, key=0, on=False):
    made = passage(row, key=key)
    expected = expected_notes(made.notes, MAP)
    notes = [PlayedNote(started_s=float(i), sounding=s, place=p) for i, (s, p) in enumerate(played)]
    if on:
        return FinishedTake(passage=made, expected=expected, judgement=judge_untimed(expected, notes))
    state = begin(expected, now_s=0)
    for note in notes:
        state, _ = hear(state, note)
    return FinishedTake(passage=made, expected=expected, judgement=finish(state))


def test_a_wrong_pitch_is_written_where_it_would_stand_on_the_page():
    (mark,) = marks_of_take(finished("G4 w", (57, Place(4, 7))))
    assert mark.head == HeadId(0, 0)
    assert isinstance(mark.mark, PlayedHead)
    assert (mark.mark.pitch.name, mark.mark.show_sign) == ("A4", False)


def test_a_wrong_pitch_of_the_same_letter_stands_on_the_same_line_with_its_sign():
    (mark,) = marks_of_take(finished("Bb4 w", (59, Place(3, 4)), key=-1))
    assert (mark.mark.pitch.name, mark.mark.show_sign) == ("B4", True)


def test_a_neighbour_keeps_its_own_letter_where_it_lies_a_semitone_off():
    near = (("F5 w", Place(2, 5), 0, "E5", False), ("E5 w", Place(2, 6), -1, "F5", False))
    for written, place, key, name, sign in (*near, ("C5 w", Place(3, 4), -1, "B4", True)):
        (mark,) = marks_of_take(finished(written, (MAP.tuning.sounding(place), place), key=key))
        assert (mark.mark.pitch.name, mark.mark.show_sign) == (name, sign)


def test_a_wrong_pitch_that_the_signature_gives_needs_no_sign():
    (mark,) = marks_of_take(finished("C5 w", (58, Place(4, 8)), key=-1))
    assert (mark.mark.pitch.name, mark.mark.show_sign) == ("Bb4", False)


def test_another_place_is_written_with_its_string_and_fret():
    (mark,) = marks_of_take(finished("F4 w", (53, Place(4, 3))))
    assert mark.mark == PlaceMark(place=Place(4, 3))


def test_without_strings_the_home_is_written_under_each_note():
    (mark,) = marks_of_take(finished("F4 w", (53, None)))
    assert mark.mark == PlaceMark(place=Place(5, 8), home=True)


def test_a_clean_note_gets_no_mark_and_a_missed_one_a_caret():
    take = finished("F4 q, G4 q, A4 h", (53, Place(5, 8)), (57, Place(4, 7)), on=True)
    assert marks_of_take(take) == (PlacedMark(HeadId(0, 1), MissedMark()),)
    assert take.clean_heads == {HeadId(0, 0), HeadId(0, 2)}


def test_a_note_that_could_not_be_told_gets_a_question_mark_and_nothing_else():
    take = finished("F4 q, G4 q, A4 h", (53, Place(5, 8)))
    clean, *_ = take.judgement.verdicts
    heard = PlayedNote(started_s=1.0, sounding=56, place=None, heard=True, sure=False)
    unsure = NoteVerdict(n=2, verdict=Verdict.UNSURE, answers=(heard,))
    judgement = replace(take.judgement, verdicts=(clean, unsure, NoteVerdict(n=3, verdict=Verdict.UNREAD)))
    assert marks_of_take(replace(take, judgement=judgement)) == (PlacedMark(HeadId(0, 1), UnsureMark()),)


def test_tied_heads_turn_together():
    assert finished("F4 h ~, F4 h", (53, Place(5, 8))).clean_heads == {HeadId(0, 0), HeadId(0, 1)}


def test_names_are_written_in_the_players_language_and_wrong_ones_crossed_out():
    notes = passage("F#4 h, G4 h").notes
    take = begin_naming(notes, now_s=0)
    for spelling in (Spelling("F", 0), Spelling("F", 1)):
        take, _ = give_name(take, spelling, now_s=1)
    marks = name_marks(notes, finish_naming(take), NoteNames.SOLFEGE)
    assert [mark.mark for mark in marks] == [NameMark(text="fa♯"), NameMark(text="fa", struck=True, row=1)]


def counted(*bars: Bar) -> list[list[str]]:
    """The words under the notes of each bar."""
    marks = count_marks(bars)
    return [[mark.mark.text for mark in marks if mark.head.bar == index] for index in range(len(bars))]


def test_beats_are_counted_with_and_half_way_and_e_and_a_at_the_quarters():
    """As counting is taught (trade)."""
    assert counted(bar("F4 q, F4 e, F4 e, F4 s, F4 s, F4 s, F4 s, F4 q")) == [["1", "2", "&", "3", "e", "&", "a", "4"]]


def test_in_compound_metres_the_felt_beats_and_their_thirds_are_counted():
    assert counted(bar("F4 e, F4 e, F4 e, F4 q.", meter=Meter(6, 8))) == [["1", "&", "a", "2"]]


def test_a_pickup_is_counted_as_the_end_of_a_bar():
    assert counted(bar("F4 e, F4 e", pickup=True), bar("F4 w")) == [["4", "&"], ["1"]]


def test_rests_graces_and_tied_heads_are_not_counted_nor_what_is_finer_than_a_quarter_of_a_beat():
    assert counted(bar("r q, gF4 e, F4 q ~, F4 h")) == [["2"]]
    assert counted(bar("F4 s., F4 s., F4 e, F4 h.")) == [["1", "a", "e"]], "three eighths of a beat have no word"


def test_early_late_and_said_wrong_are_marks_of_their_own():
    (note,) = expected_notes(passage("F4 w").notes, MAP)
    played = PlayedNote(started_s=0.0, sounding=53, place=Place(5, 8))

    def mark(verdict, *answers):
        said = NoteVerdict(n=1, verdict=verdict, answers=answers)
        return [one.mark for one in marks_of(note, said, key=Key(), reading=Reading.GUITAR)]

    assert mark(Verdict.EARLY, played) == [OffTimeMark(early=True)]
    assert mark(Verdict.LATE, played) == [OffTimeMark(early=False)]
    assert mark(Verdict.WRONG_PITCH) == [SaidWrongMark()]
    assert mark(Verdict.UNREAD) == []


def test_a_word_stands_at_each_note_from_which_the_player_left_the_click_and_none_for_a_stop():
    notes = expected_notes(passage("F4 h, G4 h", "A4 w").notes, MAP)
    events = [TakeEvent(kind=kind, n=n, time_ms=0.0) for kind, n in (
        (EventKind.RAN_AHEAD, 1), (EventKind.STOP, 2), (EventKind.FELL_BEHIND, 3), (EventKind.RAN_AHEAD, None),
    )]  # fmt: skip
    words = {EventKind.RAN_AHEAD: "ahead", EventKind.FELL_BEHIND: "behind"}
    assert pace_marks(notes, events, words) == (
        PlacedMark(HeadId(0, 0), PaceMark("ahead")),
        PlacedMark(HeadId(1, 0), PaceMark("behind")),
    )
