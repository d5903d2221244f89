"""Why a pitch was wrong, where it can be told. The order of the causes is ours, from teachers' practice."""

from random import Random

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.cause import cause_of, octave_off, octaves_too_high, with_causes
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.verdicts import Cause, NoteVerdict, Verdict
from game.lines.fresh_line import fresh_line
from game.lines.levels import level_of
from game.music.keys import Key
from game.music.passage import whole_tune
from game.music.pitch import pitch
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from tests.judging.causes.readers import habit_of, page_of, take_with
from tests.made import passage
from tests.sampling import how_many

MAP = standard_map()


@pytest.mark.parametrize(
    ("row", "key", "n", "name", "cause"),
    [
        ("Bb4 w", -1, 1, "B4", Cause.SIGNATURE),
        ("F#4 w", 2, 1, "F4", Cause.SIGNATURE),
        ("F#4 h, F#4 h", 0, 2, "F4", Cause.ACCIDENTAL),
        ("F#4 w", 0, 1, "F4", Cause.ACCIDENTAL),
        ("B4 w", -1, 1, "Bb4", Cause.ACCIDENTAL),
        ("G4 w", 0, 1, "G5", Cause.OCTAVE),
        ("G4 w", 0, 1, "A4", Cause.NEIGHBOUR),
        ("G4 w", 0, 1, "F4", Cause.NEIGHBOUR),
        ("E4 w", 0, 1, "F4", Cause.NEIGHBOUR),
        ("A3 w", 0, 1, "C4", Cause.LEDGER),
        ("A3 w", 0, 1, "B3", Cause.LEDGER),
        ("C6 w", 0, 1, "A5", Cause.LEDGER),
        ("G4 w", 0, 1, "G#4", Cause.SLIP),
        ("G4 w", 0, 1, "C5", Cause.SLIP),
        ("G4 w", 0, 1, "Eb5", Cause.UNKNOWN),
    ],
)
def test_the_cause_is_told_from_what_was_played(row, key, n, name, cause):
    expected = expected_notes(passage(row, key=key).notes, MAP)[n - 1]
    sounding = pitch(name).midi - 12
    home = MAP.home_of(sounding)
    assert cause_of(expected, PlayedNote(started_s=0, sounding=sounding, place=home.place)) is cause


def test_without_strings_a_slip_is_a_semitone_or_what_one_string_over_gives():
    expected = expected_notes(passage("G4 w").notes, MAP)[0]
    assert expected.home.place == Place(4, 5)
    for sounding, cause in ((56, Cause.SLIP), (60, Cause.SLIP), (50, Cause.SLIP), (63, Cause.UNKNOWN)):
        assert cause_of(expected, PlayedNote(started_s=0, sounding=sounding, place=None)) is cause
    assert cause_of(expected, PlayedNote(started_s=0, sounding=56, place=Place(4, 6))) is Cause.SLIP


@pytest.mark.parametrize(
    ("row", "key", "n", "name", "cause"),
    [
        ("F#4 q, C#5 q, E4 h", 2, 3, "F#4", Cause.NEIGHBOUR),
        ("Bb4 q, Eb5 q, G4 h", -2, 3, "Eb4", Cause.THIRD),
        ("G4 q, B4 q, A4 h", 0, 2, "G4", Cause.THIRD),
    ],
)
def test_another_line_is_read_with_its_own_signature(row, key, n, name, cause):
    expected = expected_notes(passage(row, key=key).notes, MAP)
    assert told(expected, {n: pitch(name).midi - 12})[n - 1].cause is cause


def told(expected: tuple[ExpectedNote, ...], wrong: dict[int, int]) -> tuple[NoteVerdict, ...]:
    """The verdicts of a take in which some notes sounded otherwise, each played at the home of what sounded."""
    verdicts = []
    for asked in expected:
        sounding = wrong.get(asked.n, asked.sounding)
        note = PlayedNote(started_s=float(asked.n), sounding=sounding, place=MAP.home_of(sounding).place)
        verdicts.append(
            NoteVerdict(
                n=asked.n,
                verdict=Verdict.WRONG_PITCH if asked.n in wrong else Verdict.CLEAN,
                answers=(note,),
                octave_off=octave_off(asked, sounding),
                cause=cause_of(asked, note) if asked.n in wrong else None,
            )
        )
    return with_causes(expected, verdicts)


def test_the_right_letter_in_another_octave_is_so_many_octaves_too_high_or_too_low():
    expected = expected_notes(passage("G4 w").notes, MAP)[0]
    assert [octaves_too_high(expected, sounding) for sounding in (67, 43, 79, 55, 56)] == [1, -1, 2, 0, 0]
    assert told((expected,), {1: 67})[0].cause is Cause.OCTAVE


def test_nothing_but_the_cause_of_wrong_pitches_is_changed():
    expected = expected_notes(passage("G4 q, A4 q, B4 q, E4 q").notes, MAP)
    verdicts = told(expected, {2: 58, 4: 53})
    assert with_causes(expected, verdicts) == verdicts
    unheard = (*verdicts[:3], NoteVerdict(n=4, verdict=Verdict.MISSED))
    assert with_causes(expected, unheard)[3] is unheard[3]


# Fewest right of a hundred, from the aim of the whole: the bench measures more of each.
@pytest.mark.parametrize(
    ("cause", "least"), [(Cause.SLIP, 80), (Cause.NEIGHBOUR, 90), (Cause.LEDGER, 80), (Cause.THIRD, 80)]
)
def test_readers_with_a_habit_are_told_what_it_is(cause, least):
    rng = Random(20)
    right = made = 0
    for number in range(how_many(160, by_default=24)):
        line = fresh_line(level_of(number % 8 + 1), MAP, key=Key(number % 6 - 3), bars=8, rng=rng)
        take = take_with(page_of(whole_tune(line), MAP), [habit_of(cause, rng)], rng)
        verdicts = with_causes(take.expected, take.verdicts)
        made += sum(fault is cause for fault in take.faults.values())
        right += sum(fault is cause and verdicts[index].cause is cause for index, fault in take.faults.items())
    assert made >= 10
    assert right >= made * least / 100
