"""The marks of a take, and causes in words."""

from game.instrument.decoding.played import PlayedNote
from game.judging.verdicts import Cause
from game.music.keys import Key
from game.music.names import NoteNames, spelling_of
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.practice.letters_take import LettersTake
from game.practice.pencilled import NameMark, PlacedMark, PlaceMark, PlayedHead
from game.practice.places_take import PlacesTake
from game.screens.reading.take_in_words import cause_in_words, marks_of_finished
from tests.made import passage

MAP = standard_map()
LINE = passage("F4 q, G4 q, Bb4 h", key=-1)


def test_what_was_played_wrong_or_elsewhere_is_marked_at_its_note_and_nothing_else():
    made = PlacesTake(LINE, MAP, now_s=0.0)
    answers = (53, Place(4, 3)), (55, Place(4, 5)), (59, Place(3, 4)), (58, Place(4, 8))
    for index, (sounding, place) in enumerate(answers, start=1):
        made.hear(PlayedNote(started_s=float(index), sounding=sounding, place=place))
    marks = marks_of_finished(made.so_far(), NoteNames.ENGLISH)
    heads = [note.heads[0] for note in LINE.notes]
    assert marks[0] == PlacedMark(heads[0], PlaceMark(place=Place(4, 3)))
    assert [mark.head for mark in marks] == [heads[0], heads[2]]
    assert isinstance(marks[1].mark, PlayedHead)


def test_of_letters_the_names_are_written_down():
    naming = LettersTake(passage("F4 w"), MAP, now_s=0.0)
    assert marks_of_finished(naming.so_far(), NoteNames.ENGLISH) == ()
    naming.name(spelling_of(naming.asked.pitch), 1.0)
    assert [mark.mark for mark in marks_of_finished(naming.so_far(), NoteNames.ENGLISH)] == [NameMark(text="F")]


def test_the_right_letter_in_another_octave_is_told_as_too_high_or_too_low():
    assert cause_in_words(Cause.OCTAVE, 1) == "The right letter, 1 octave too high."
    assert cause_in_words(Cause.OCTAVE, -2) == "The right letter, 2 octaves too low."


def test_where_nobody_can_tell_why_nothing_is_said():
    assert cause_in_words(Cause.UNKNOWN) == cause_in_words(None) == ""
    assert cause_in_words(Cause.SIGNATURE) == "Look at the key signature."


def test_where_the_key_has_no_signs_nobody_is_told_to_look_at_them():
    assert cause_in_words(Cause.SIGNATURE, key=Key(-1)) == "Look at the key signature."
    assert cause_in_words(Cause.SIGNATURE, key=Key()) == "There is no key signature here: no sharps and no flats."
