"""A take in words."""

from game.instrument.decoding.played import PlayedNote
from game.judging.verdicts import Cause
from game.music.names import NoteNames
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.practice.letters_take import LettersTake
from game.practice.places_take import PlacesTake
from game.screens.reading.take_in_words import cause_in_words, summary_in_words
from tests.made import passage

MAP = standard_map()


def take(*played):
    made = PlacesTake(passage("F4 q, G4 q, Bb4 h", key=-1), MAP, now_s=0.0)
    for index, (sounding, place) in enumerate(played, start=1):
        made.hear(PlayedNote(started_s=float(index), sounding=sounding, place=place))
    return made.so_far()


F, G, B_FLAT = (53, Place(5, 8)), (55, Place(4, 5)), (58, Place(4, 8))


def test_all_notes_at_their_homes_are_found():
    finished = take(F, G, B_FLAT)
    assert summary_in_words(finished, NoteNames.ENGLISH)[0] == "All three at their homes. Found."


def test_a_wrong_note_is_named_with_its_bar_and_its_cause():
    sentences = summary_in_words(take(F, G, (59, Place(3, 4)), B_FLAT), NoteNames.GERMAN)
    assert sentences[0] == "Two of three right."
    assert sentences[1] == "B in bar 1 was played as H. Look at the key signature."


def test_another_place_is_told_with_the_home():
    sentences = summary_in_words(take((53, Place(4, 3)), G, B_FLAT), NoteNames.ENGLISH)
    assert sentences[1].startswith("F in bar 1 was right in pitch, on string 4 at fret 3: its home is string 5, fret 8")


def test_a_take_broken_off_says_how_far_it_went():
    assert summary_in_words(take(F), NoteNames.ENGLISH)[0] == "You stopped after one of three notes: one right."


def test_a_line_not_named_at_all_says_so():
    naming = LettersTake(passage("F4 w"), MAP, now_s=0.0)
    assert summary_in_words(naming.so_far(), NoteNames.ENGLISH) == ("Nothing was read this time.",)


def test_the_right_letter_in_another_octave_is_told_as_too_high_or_too_low():
    too_high, too_low = cause_in_words(Cause.OCTAVE, 1), cause_in_words(Cause.OCTAVE, -2)
    assert too_high == "The right letter, 1 octave too high."
    assert too_low == "The right letter, 2 octaves too low."
    told = summary_in_words(take((65, Place(2, 6)), F, G, B_FLAT), NoteNames.ENGLISH)
    assert any(sentence.endswith(too_high) for sentence in told)
