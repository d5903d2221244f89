"""The way of the hand through a take in free reading. Frets and positions are counted by hand on a guitar in standard
tuning (trade).
"""

from dataclasses import replace

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.summary import summary_of
from game.judging.verdicts import Judgement, NoteVerdict, Verdict
from game.music.keys import Key, spelled
from game.music.passage import passages_of, whole_tune
from game.music.score import Reading
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import STANDARD, TUNINGS, Place
from game.practice.finished_take import FinishedTake
from game.practice.hand_in_take import hand_in_take, hand_told
from game.text.catalogue import tell
from tests.made import score

MAP = standard_map()
SCALE = score("C5 q, D5 q, E5 q, F5 q", "G5 q, A5 q, B5 q, C6 q")
SOUNDINGS = (60, 62, 64, 65, 67, 69, 71, 72)
# In position V: C at string 3 fret 5 up to the C at string 1 fret 8.
IN_FIVE = ((3, 5), (3, 7), (2, 5), (2, 6), (2, 8), (1, 5), (1, 7), (1, 8))
# And on the third string alone, from fret 5 to fret 17.
ON_ONE_STRING = tuple((3, sounding - 55) for sounding in SOUNDINGS)


def take(places, tune=SCALE, *, on=MAP, said=None):
    """A take in which each note was played at its place. `said` are verdicts by number, where a note was not right."""
    passage = whole_tune(tune)
    expected = expected_notes(passage.notes, on.without_homes)
    verdicts = []
    for note, place in zip(expected, places, strict=True):
        verdict = (said or {}).get(note.n, Verdict.CLEAN)
        off = {Verdict.WRONG_PITCH: 2}.get(verdict, 0)
        at = None if place is None else Place(*place)
        played = PlayedNote(started_s=note.n, sounding=note.sounding + off, place=at, source="test")
        answers = () if verdict in (Verdict.MISSED, Verdict.UNREAD) else (played,)
        verdicts.append(NoteVerdict(n=note.n, verdict=verdict, answers=answers))
    return FinishedTake(passage=passage, expected=expected, judgement=Judgement(verdicts=tuple(verdicts)), free_on=on)


def shown(finished):
    hand = hand_in_take(finished)
    assert hand is not None
    assert hand.shown is not None
    return hand.shown


def told(finished):
    return tell(hand_told(hand_in_take(finished)))


def test_the_places_are_those_of_the_pitches():
    assert tuple(STANDARD.sounding(Place(*place)) for place in IN_FIVE) == SOUNDINGS


def test_a_hand_that_stayed_in_its_position_went_the_easiest_way():
    hand = shown(take(IN_FIVE))
    assert hand.frets == 0
    assert hand.is_best
    assert {step.position for step in hand.played.steps} == {5}
    assert told(take(IN_FIVE)) == "Your hand stayed in V: no way is easier."


def test_up_one_string_the_hand_goes_far_and_is_told_where_it_could_have_stayed():
    """The first finger begins at fret 5 at most and the last note is at fret 17: eight frets at the least. D is the
    last note that both ways have at the same place: E lies on the next string.
    """
    hand = shown(take(ON_ONE_STRING))
    assert hand.frets >= 8
    assert hand.easy_frets == 0
    assert hand.left_at == 2
    assert told(take(ON_ONE_STRING)) == (
        f"Your hand moved {hand.frets} frets; from bar 1 on it could have stayed in V."
    )


def test_the_best_way_goes_along_with_the_one_that_was_played_until_they_part():
    places = (*IN_FIVE[:5], (2, 10), (2, 12), (2, 13))
    hand = shown(take(places))
    assert hand.left_at == 5
    assert [(step.place.string, step.place.fret) for step in hand.easy.steps[:5]] == list(IN_FIVE[:5])
    assert hand.bars[hand.left_at] == "2"


def test_who_crosses_a_string_more_than_needed_is_not_told_of_it():
    """From the open G to E on the B string and back, instead of up the G string."""
    finished = take(((3, 0), (2, 5), (3, 0)), score("G4 q, E5 q, G4 h"))
    assert not shown(finished).is_best
    assert shown(finished).is_easy
    assert told(finished).endswith(": hardly any way is easier.")


def test_who_repeats_the_best_way_goes_the_easiest_way():
    best = shown(take(ON_ONE_STRING)).easy
    again = shown(take([(step.place.string, step.place.fret) for step in best.steps]))
    assert again.is_best
    assert again.played.cost == best.cost


@pytest.mark.parametrize("verdict", [Verdict.WRONG_PITCH, Verdict.MISSED, Verdict.UNREAD, Verdict.UNSURE])
def test_a_phrase_is_told_only_where_every_note_was_right(verdict):
    finished = take(IN_FIVE, said={7: verdict})
    hand = hand_in_take(finished)
    assert hand.shown is None
    assert told(finished) == "The way of your hand is told once every note of a phrase is right."


@pytest.mark.parametrize("verdict", [Verdict.EARLY, Verdict.LATE])
def test_a_note_out_of_time_is_a_right_one(verdict):
    assert shown(take(IN_FIVE, said={7: verdict})).n == tuple(range(1, 9))


def test_the_right_pitch_in_another_octave_is_no_right_note():
    finished = take(IN_FIVE, said={1: Verdict.WRONG_PITCH})
    assert hand_in_take(finished).shown is None


def test_without_places_the_way_is_not_known():
    assert told(take([None] * 8)) == "No place came with these notes: the way of your hand is not known."


def test_one_place_that_did_not_come_leaves_the_phrase_untold():
    assert "every note of a phrase" in told(take((*IN_FIVE[:7], None)))


def test_one_note_is_no_way():
    assert told(take(((3, 5),), score("C5 w"))) == "One note is no way yet: take more bars with ]."


def test_a_note_that_the_neck_has_not_is_neither_asked_nor_part_of_the_way():
    """C8 sounds an octave below: forty semitones above the open E string, beyond any fret."""
    tune = score("C5 q, D5 q, C8 h")
    finished = take((*IN_FIVE[:2], None), tune, said={3: Verdict.MISSED})
    assert (finished.summary.asked, finished.summary.right_notes) == (2, 2)
    assert shown(finished).n == (1, 2)


def test_in_free_reading_every_note_is_asked_though_none_has_a_home():
    finished = take(IN_FIVE, said={2: Verdict.WRONG_PITCH})
    assert (finished.summary.asked, finished.summary.right_notes) == (8, 7)
    assert summary_of(finished.judgement, finished.expected).asked == 0
    assert hand_in_take(replace(finished, free_on=None)) is None


LONG = score(
    *["C5 q, D5 q, E5 q, F5 q", "G5 q, A5 q, B5 q, C6 q", "C6 q, B5 q, A5 q, G5 q", "F5 q, E5 q, D5 q, C5 q"] * 2
)
UP_AND_DOWN = (*IN_FIVE, *IN_FIVE[::-1])


def test_a_whole_tune_is_told_phrase_by_phrase():
    """Four bars a phrase: the second one goes up one string."""
    assert [passage.bar_numbers for passage in passages_of(LONG)] == [("1", "4"), ("5", "8")]
    finished = take((*UP_AND_DOWN, *ON_ONE_STRING, *IN_FIVE[::-1]), LONG)
    hand = hand_in_take(finished)
    assert (len(hand.phrases), hand.phrase_count) == (2, 2)
    assert hand.shown.bars[0] == "5"
    assert told(finished).startswith("2 of 2 phrases played whole, 1 by an easy way. Bars 5 to 8: ")


def test_of_two_phrases_one_that_was_left_on_the_way_is_not_told():
    finished = take((*UP_AND_DOWN, *UP_AND_DOWN), LONG, said=dict.fromkeys(range(20, 33), Verdict.UNREAD))
    assert told(finished) == "One phrase of 2 was played whole, by an easy way."


def test_phrases_that_all_went_an_easy_way_are_told_as_one():
    assert told(take(UP_AND_DOWN * 2, LONG)) == ("2 of 2 phrases played whole, all by an easy way.")


@pytest.mark.parametrize("name", ["bass", "bass-five", "seven-string", "eight-string"])
def test_the_way_is_told_on_any_number_of_strings(name):
    """Two frets on the lowest string and the same two on the next: one position."""
    tuning = TUNINGS[name]
    low = len(tuning.open_strings)
    places = [(low, 6), (low, 8), (low - 1, 6), (low - 1, 8)]
    names = [spelled(tuning.sounding(Place(*place)), Key(0)).name for place in places]
    tune = score(", ".join(f"{written} q" for written in names), reading=Reading.CONCERT)
    hand = shown(take(places, tune, on=standard_map(tuning=tuning, reading=Reading.CONCERT)))
    assert hand.frets == 0
    assert hand.least_cost <= hand.played.cost
    assert [tuning.sounding(step.place) for step in hand.easy.steps] == [tuning.sounding(Place(*at)) for at in places]


def test_a_joined_map_is_one_neck():
    joined = standard_map(second=SecondRegion(position=10, seam=67))
    assert shown(take(IN_FIVE, on=joined)).is_best
