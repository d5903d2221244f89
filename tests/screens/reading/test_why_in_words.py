"""Why a take went as it did is what the coach went by, told with one note of it."""

from dataclasses import replace
from random import Random

import pytest

from game.coach.coach import advance
from game.coach.events import Overruled, Wish
from game.coach.record_update import updated_record
from game.coach.records import CoachState
from game.coach.stages import Stage
from game.coach.tempo.next_tempo import TempoReason, tempo_after_take
from game.instrument.decoding.played import PlayedNote
from game.judging.timed import judge_timed
from game.judging.tolerance import bar_spans, timed_grid
from game.judging.verdicts import Cause, Verdict
from game.music.names import NoteNames
from game.neck.tuning import Place
from game.practice.letters_take import LettersTake
from game.practice.places_take import PlacesTake
from game.screens.reading.why_in_words import why_in_words
from game.text.catalogue import tell
from tests.coach.coach_takes import PASSAGE
from tests.made import passage
from tests.practice.simulated_takes import LINE, LINE_OF_18, MAP, Habits, any_habits, heard_by_coach, played_take
from tests.sampling import how_many
from tests.speaking import speaking

NOTES = len(LINE.notes)
_PITCHES = (TempoReason.FELL_APART, TempoReason.NOT_CLEAN)
_TIME = (TempoReason.TIMING, TempoReason.OUT_OF_TIME)


def told(finished, names=NoteNames.ENGLISH):
    return [tell(one) for one in why_in_words(finished, names)]


def keys_in(messages):
    """The keys of messages and of those inside them."""
    for one in messages:
        yield one.key
        yield from keys_in(value for _, value in one.values if hasattr(value, "key"))


def in_places(row, *sounded, key=0):
    take = PlacesTake(passage(row, key=key), MAP, now_s=0.0)
    for index, (sounding, place) in enumerate(sounded, start=1):
        take.hear(PlayedNote(started_s=float(index), sounding=sounding, place=place))
    return take.so_far()


@pytest.mark.parametrize("seed", range(how_many(300, by_default=30)))
def test_the_figure_that_is_told_is_the_one_the_coach_decided_by(seed):
    rng = Random(seed)
    take = played_take(rng, any_habits(rng, NOTES))
    result = heard_by_coach(take)
    if not result.homes:
        return
    state, _ = advance(CoachState(), Overruled(passage=PASSAGE, day=1, wish=Wish.METRONOME_NOW, tempo_bpm=70))
    record = updated_record(replace(state.records[PASSAGE.name], takes_today=1), result, ())
    if result.is_false_start(8):
        return
    decided, keys = tempo_after_take(record, result).why, set(keys_in(why_in_words(take, NoteNames.ENGLISH)))
    if result.unread:
        assert "why.left" in keys
    elif decided in (*_PITCHES, *_TIME):
        assert ("why.asked" in keys) == (decided in _PITCHES)
        assert ("why.time_short" in keys) == (decided in _TIME)
    elif decided is TempoReason.HELD:
        assert not keys & {"why.asked", "why.time_short", "going.stopped", "going.began_again"}
    else:
        assert decided in (TempoReason.STOPPED, TempoReason.BEGAN_AGAIN, TempoReason.TOO_FAST)
        assert decided is TempoReason.TOO_FAST or keys & {
            "why.right_short",
            "why.asked",
            "going.stopped",
            "going.began_again",
        }


def test_16_of_18_in_time_earns_no_rung_and_that_is_said():
    """All but one of fewer than twenty, which is the coach's rule: not nine tenths rounded down."""
    take = played_take(Random(1), Habits(), line=LINE_OF_18)
    verdicts = list(take.judgement.verdicts)
    for at in (4, 9):
        verdicts[at] = replace(verdicts[at], verdict=Verdict.LATE)
    late = replace(take, judgement=replace(take.judgement, verdicts=tuple(verdicts)))
    assert len(LINE_OF_18.notes) == 18
    assert told(late) == ["16 of 18 in time, and a rung asks for 17."]


def test_all_clean_says_so():
    assert told(played_take(Random(1), Habits(), line=passage("C4 q, D4 q, E4 q, D4 q"))) == ["All four, and steady."]


def test_a_note_a_step_low_is_told_with_its_bar_and_what_it_was_read_as():
    line = passage("C4 q, D4 q, C4 q, D4 q", "C4 q, D4 q, C4 q, D4 q", "E4 q, D4 q, E4 q, F4 q", "E4 w")
    take = played_take(Random(1), Habits(), line=line)
    played = list(take.played)
    played[9] = replace(played[9], sounding=48, place=MAP.home_of(48).place)
    assert told(_judged_again(take, played)) == ["The D in bar 3 was read as C, one step low."]


def _judged_again(take, played):
    grid = timed_grid(take.passage.notes, tempo_bpm=take.tempo_bpm, spans=bar_spans(take.passage.bars))
    return replace(take, judgement=judge_timed(take.expected, played, grid), played=tuple(played))


def test_the_commonest_cause_is_told_by_its_first_note_with_how_often_it_came():
    home = {note: MAP.home_of(note).place for note in (53, 55, 57, 58, 59)}
    take = in_places("F4 q, Bb4 q, A4 q, Bb4 q", *[(note, home[note]) for note in (53, 59, 58, 57, 59, 58)], key=-1)
    assert told(take) == ["The B♭ in bar 1 was played as B: look at the key signature. Two like that."]


def test_in_a_key_without_signs_nobody_is_told_to_look_at_its_signature():
    """F played as F sharp in C was read with a sharp too many: the judge calls it the signature."""
    home = {note: MAP.home_of(note).place for note in (53, 54, 55)}
    line = "F4 q, G4 q, F4 q, G4 q"
    take = in_places(line, *[(note, home[note]) for note in (54, 53, 55, 54, 53, 55)])
    assert {one.cause for one in take.judgement.verdicts if one.cause} == {Cause.SIGNATURE}
    assert told(take) == ["The F in bar 1 was played as F♯: this key has no sharps or flats. Two like that."]


@pytest.mark.parametrize(
    ("sounded", "said"),
    [
        (((53, Place(4, 3)),), "The F in bar 1 was not at its home, but on string 4 at fret 3."),
        (((65, Place(2, 6)), (53, Place(5, 8))), "The F in bar 1 was played an octave too high."),
        (((41, Place(6, 1)), (53, Place(5, 8))), "The F in bar 1 was played an octave too low."),
    ],
)
def test_another_place_and_another_octave_are_told_as_such(sounded, said):
    assert told(in_places("F4 w", *sounded)) == [said]


def test_a_take_that_was_left_says_how_far_it_went():
    assert told(played_take(Random(1), Habits(leaves_after=9)))[0] == "9 of 16 notes read."


def test_nothing_read_says_so():
    assert told(LettersTake(passage("F4 w"), MAP, now_s=0.0).so_far()) == ["Nothing was read this time."]
    assert told(in_places("F4 w")) == ["Nothing was read this time."]


def test_the_rhythm_alone_is_told_by_what_is_asked_to_go_on():
    take = played_take(Random(1), Habits(lean_ms=170), stage=Stage.RHYTHM)
    assert told(take)[0] == "0 of 16 in time, and 14 are asked to go on: you lean late."


def test_in_german_every_sentence_is_german():
    with speaking("de"):
        assert told(in_places("F4 w", (65, Place(2, 6)), (53, Place(5, 8)))) == [
            "Das F in Takt 1 klang eine Oktave zu hoch."
        ]
        assert told(played_take(Random(1), Habits()), NoteNames.GERMAN) == ["Alle 16, und gleichmäßig."]
