"""The simulated player makes the mistakes it says, as often as it is told to, and no others."""

from collections import Counter
from fractions import Fraction
from random import Random

import pytest

from game.instrument.sources.simulated import MIDDLING, Mistake, SimulatedPlayer, answer
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import pitch
from game.music.score import Bar, Note, NoteValue, Reading
from game.music.written import written_notes
from game.neck.neck_map import standard_map
from game.neck.tuning import STANDARD, Place
from tests.instrument.simulated_takes import FLAWLESS, play_untimed

HOMES = standard_map().places
QUARTER = Fraction(1)


def written(*bars, fifths=0):
    """Bars of quarter notes by name, in a key signature, read at guitar octave."""
    return written_notes(
        [
            Bar(
                number=str(number),
                meter=Meter(4, 4),
                key=Key(fifths),
                length=QUARTER * len(names.split()),
                events=tuple(
                    Note(onset=QUARTER * n, length=QUARTER, value=NoteValue(base=QUARTER), pitch=pitch(name))
                    for n, name in enumerate(names.split())
                ),
            )
            for number, names in enumerate(bars, start=1)
        ],
        Reading.GUITAR,
    )


MELODY = written("F#4 G4 A4 B4", "C5 C#5 D5 C#5", "G4 E4 F#4 D4", fifths=1)


def first_answers(notes, shares, takes=200, **player):
    player = SimulatedPlayer(homes=HOMES, shares=shares, **player)
    rng = Random(11)
    return [(note, answer(player, note, attempt=1, asked_s=0.0, rng=rng)) for _ in range(takes) for note in notes]


def test_a_flawless_player_plays_every_note_at_its_home_in_order():
    take = play_untimed(SimulatedPlayer(homes=HOMES, shares=FLAWLESS), MELODY, started_s=3.0, rng=Random(1))
    assert [(a.n, a.note.sounding, a.note.place) for a in take] == [
        (note.n, note.sounding, HOMES[note.sounding]) for note in MELODY
    ]
    starts = [3.0, *(a.note.started_s for a in take)]
    assert starts == sorted(starts)


def test_the_same_seed_plays_the_same_take_and_another_seed_another():
    player = SimulatedPlayer(homes=HOMES)
    takes = [play_untimed(player, MELODY, started_s=0.0, rng=Random(seed)) for seed in (7, 7, 8)]
    assert takes[0] == takes[1]
    assert takes[0] != takes[2]


@pytest.mark.parametrize("mistake", list(Mistake))
def test_a_mistake_asked_for_always_is_made_wherever_it_can_be(mistake):
    made = [a.mistake for _, a in first_answers(MELODY, {mistake: 1.0}, takes=1)]
    assert mistake in made
    assert set(made) <= {mistake, None}


def test_a_forgotten_signature_plays_the_bare_letter():
    made = [(n.pitch.name, a.note.sounding - n.sounding) for n, a in first_answers(MELODY, {Mistake.SIGNATURE: 1.0}, 1)]
    assert {name: off for name, off in made if off} == {"F#4": -1}


def test_a_forgotten_accidental_also_counts_later_in_the_bar():
    shares = {Mistake.ACCIDENTAL: 1.0}
    made = [(n.n, a.note.sounding - n.sounding) for n, a in first_answers(MELODY, shares, 1) if a.mistake]
    assert made == [(6, -1), (8, -1)]


def test_a_neighbour_is_a_second_away_and_an_octave_is_twelve():
    for note, a in first_answers(MELODY, {Mistake.NEIGHBOUR: 1.0}):
        assert 1 <= abs(a.note.sounding - note.sounding) <= 3
    for note, a in first_answers(MELODY, {Mistake.OCTAVE: 1.0}):
        assert abs(a.note.sounding - note.sounding) == 12


def test_a_slip_is_one_fret_or_one_string_from_home():
    for note, a in first_answers(MELODY, {Mistake.SLIP: 1.0}):
        home = HOMES[note.sounding]
        assert abs(a.note.place.string - home.string) + abs(a.note.place.fret - home.fret) == 1


def test_another_place_has_the_right_pitch():
    answers = [a for _, a in first_answers(MELODY, {Mistake.OTHER_PLACE: 1.0}) if a.mistake]
    assert answers
    for a in answers:
        assert a.note.sounding in {note.sounding for note in MELODY}
        assert a.note.place != HOMES[a.note.sounding]


def test_every_place_played_gives_the_pitch_played():
    for _, a in first_answers(MELODY, MIDDLING):
        assert STANDARD.sounding(a.note.place) == a.note.sounding


def test_mistakes_come_as_often_as_asked():
    """2,400 notes at 10 %: 240 expected, standard deviation 14.7 (binomial); four of them either way."""
    made = Counter(a.mistake for _, a in first_answers(MELODY, {Mistake.SLIP: 0.1}))
    assert 240 - 59 <= made[Mistake.SLIP] <= 240 + 59


def test_after_a_wrong_try_the_player_corrects_itself():
    player = SimulatedPlayer(homes=HOMES, shares={Mistake.NEIGHBOUR: 1.0})
    take = play_untimed(player, MELODY, started_s=0.0, rng=Random(3))
    assert [a.attempt for a in take] == [1, 2] * len(MELODY)
    assert [a.mistake for a in take[1::2]] == [None] * len(MELODY)
    assert [a.note.sounding for a in take[1::2]] == [note.sounding for note in MELODY]


def test_finding_times_have_the_median_asked_for_and_hesitations_come_on_top():
    """Median of 2,400 log-normal times with spread 0.35: its standard error is 0.9 %."""
    times = sorted(a.note.started_s for _, a in first_answers(MELODY, FLAWLESS, hesitates=0.0, find_s=0.6))
    assert times[len(times) // 2] == pytest.approx(0.6, rel=0.04)
    slow = [a.note.started_s for _, a in first_answers(MELODY, FLAWLESS, hesitates=1.0, hesitation_s=30.0)]
    assert min(slow) > 30.0


def test_a_keyboard_player_has_no_places_and_cannot_take_another():
    answers = first_answers(MELODY, {Mistake.OTHER_PLACE: 1.0}, reports_strings=False)
    assert all(a.note.place is None and a.mistake is None for _, a in answers)


def test_a_note_without_a_home_is_taken_near_the_hand():
    (low,) = written("E3")
    (a,) = play_untimed(SimulatedPlayer(homes=HOMES, shares=FLAWLESS), [low], started_s=0.0, rng=Random(1))
    assert (a.note.sounding, a.note.place) == (40, Place(6, 0))


def test_shares_that_are_no_shares_are_refused():
    with pytest.raises(ValueError, match="between 0 and 1 together"):
        SimulatedPlayer(homes=HOMES, shares={Mistake.SLIP: 0.7, Mistake.OCTAVE: 0.4})
