"""Fresh lines: on the map, of the right length, spelled by the rules, never the same again."""

from itertools import pairwise
from random import Random
from statistics import mean

import pytest

from game.errors import TuneError
from game.lines.fingerprint import fingerprints
from game.lines.fresh_line import fresh_line
from game.lines.levels import LEVELS, LineMethod, level_of
from game.lines.rhythms import RHYTHMS
from game.lines.scale import key_named
from game.music.difficulty import difficulty
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import pitch
from game.music.score import Note, Reading
from game.neck.neck_map import standard_map
from tests.lines.making import MAP, STRANGE, line, many, notes_of, sample, tones_of
from tests.refusing import refusal
from tests.sampling import how_many

NUMBERS = [level.number for level in LEVELS]
SCALE_NUMBERS = [level.number for level in LEVELS if level.method is LineMethod.SCALE]


@pytest.mark.parametrize("number", NUMBERS)
def test_in_every_key_and_metre_all_notes_have_homes_and_bars_their_length(number):
    for _, meter, made in sample(number):
        assert all(MAP.home_of(note.sounding) for note in notes_of(made))
        for bar in made.bars:
            assert bar.meter == meter
            assert bar.length == sum(event.length for event in bar.events)
            assert bar.length < meter.bar_length if bar.pickup else bar.length == meter.bar_length
            ends = [event.onset + event.length for event in bar.events]
            assert [event.onset for event in bar.events] == [0, *ends[:-1]]
            assert all(event.value.length == event.length for event in bar.events)
        heads = [event for bar in made.bars for event in bar.notes]
        assert all(one.tied_to_next == after.tied_from_previous for one, after in pairwise(heads)), (
            "a tie leads nowhere"
        )


@pytest.mark.parametrize("position", [1, 2, 7, 12])
def test_lines_fit_other_maps_and_the_concert_octave(position):
    neck_map = standard_map(position=position, reading=Reading.CONCERT)
    for level in LEVELS:
        for seed in range(2):
            made = fresh_line(level, neck_map, key=Key(seed - 2), bars=6, rng=Random(seed))
            assert all(neck_map.home_of(note.sounding) for note in notes_of(made))


@pytest.mark.parametrize("number", NUMBERS)
def test_no_e_sharp_or_c_flat_unless_key_or_chord_asks_and_no_double_accidental(number):
    """Spelling by chord, key and direction (trade)."""
    for key, _, made in sample(number):
        for bar in made.bars:
            asked = {tone for chord in bar.chords for tone in tones_of(chord)}
            for note in bar.notes:
                spelled = (note.pitch.step, note.pitch.alter)
                assert abs(note.pitch.alter) <= 1
                early = note.tied_to_next or note.tied_from_previous
                assert (
                    spelled not in STRANGE
                    or key.alter_of(note.pitch.step) == note.pitch.alter
                    or spelled in asked
                    or early
                )


@pytest.mark.parametrize("number", [5, 6, 7, 8])
def test_an_accidental_goes_on_by_step(number):
    """To the line or space beside it, within two notes: an enclosure has a note between (trade). Chord tones are free;
    what colours a dominant or a major chord may go on to any chord tone within a fifth.
    """
    for _, _, made in sample(number):
        notes = notes_of(made)
        free = chord_tones_by_note(made)
        for index, note in enumerate(notes[:-2]):
            if note.pitch.alter != note.signature and (note.pitch.step, note.pitch.alter) not in free[index]:
                goals = notes[index + 1 : index + 3]
                by_step = any(
                    abs(goal.sounding - note.sounding) <= 2 and abs(goal.pitch.staff_step - note.pitch.staff_step) <= 1
                    for goal in goals
                )
                assert by_step or (number > 5 and coloured(note, goals[0], free[index])), (note, goals)


def coloured(note, goal, tones):
    """Whether an altered note colours a chord and goes on to one of the tones."""
    return (goal.pitch.step, goal.pitch.alter) in tones and abs(goal.sounding - note.sounding) <= 7


def chord_tones_by_note(made):
    """For each note the tones of all chords of its bar and the next: early notes belong to the chord ahead."""
    rows = [{tone for chord in bar.chords for tone in tones_of(chord)} for bar in made.bars]
    numbers = {bar.number: index for index, bar in enumerate(made.bars)}
    return [set().union(*rows[numbers[note.bar] : numbers[note.bar] + 2]) for note in notes_of(made)]


@pytest.mark.parametrize("level", LEVELS, ids=lambda level: level.name)
def test_a_seed_gives_the_same_line_and_a_thousand_seeds_a_thousand_lines(level):
    """Of these a sample by default; no two of them share four bars either, which are what a player gets to know."""
    assert line(level, seed=5) == many(level.number)[5]
    lines = many(level.number)
    assert len({made.bars for made in lines}) == len(lines)
    marks = [mark for made in lines for mark in fingerprints(made)]
    assert len(set(marks)) > 0.99 * len(marks)


def test_what_was_seen_does_not_come_again_not_even_one_passage_of_it():
    level, seen = LEVELS[0], set()
    for seed in range(how_many(150, by_default=60)):
        made = line(level, "C", seed, bars=4, seen=seen)
        assert not seen & fingerprints(made)
        seen |= fingerprints(made)
    first = line(level, seed=1)
    again = line(level, seed=1, seen=fingerprints(first))
    assert again.bars[:4] != first.bars[:4]
    assert again.bars[4:] != first.bars[4:]


def test_a_kind_of_line_that_is_used_up_says_so():
    class Everything:
        def __contains__(self, _):
            return True

    with refusal(TuneError, "no new line is left, choose another level, key or length"):
        line(LEVELS[0], seen=Everything())


@pytest.mark.parametrize("level", LEVELS, ids=lambda level: level.name)
def test_a_note_of_five_times_the_weight_comes_at_least_half_again_as_often(level):
    # Five notes lie from F4 to C5 where nobody wishes otherwise.
    heavy = pitch("D5" if level.number == 1 else "A4").midi - 12
    plain = share(many(level.number), heavy)
    weighted = share([line(level, seed=seed, weights={heavy: 5.0}) for seed in range(12)], heavy)
    assert weighted > 1.5 * plain


def share(lines, sounding):
    return mean(note.sounding == sounding for made in lines for note in notes_of(made))


def test_a_note_of_no_weight_never_comes_where_there_is_room_without_it_and_no_line_fails_for_want_of_it():
    known = range(53, 66)
    weights = {home.sounding: float(home.sounding in known) for home in MAP.homes}
    for level in LEVELS[:2]:
        for seed in range(6):
            assert {note.sounding for note in notes_of(line(level, seed=seed, weights=weights))} <= set(known)
    for level in LEVELS:
        three = {home.sounding: float(home.sounding in {50, 57, 66}) for home in MAP.homes}
        assert notes_of(line(level, "Bb", level.number, weights=three))
        assert notes_of(line(level, "Bb", level.number, weights=dict.fromkeys(three, 0.0)))


def test_weights_leave_the_rules_alone():
    weights = dict.fromkeys(range(50, 62), 20.0)
    for level in LEVELS[:4]:
        for seed in range(8):
            notes = notes_of(line(level, seed=seed, weights=weights))
            assert notes[-1].pitch.step == "F"
            steps = [abs(b.pitch.staff_step - a.pitch.staff_step) for a, b in pairwise(notes)]
            assert max(steps) <= level.leap


def test_lines_get_harder_to_read_from_level_to_level_and_never_by_much():
    """By the measure of the library (`game.music.difficulty`), in F; over the keys of the shelf no step is over 0.6."""
    means = [
        mean(difficulty(made.bars, made.reading).page_total for made in many(level.number)) for level in LEVELS
    ]  # fmt: skip
    assert all(before + 0.05 < after < before + 0.75 for before, after in pairwise(means)), means


@pytest.mark.parametrize(
    ("meter", "number"),
    [(Meter(4, 4), 6), (Meter(3, 4), 7), (Meter(6, 8), 1)],
    ids=["4/4", "3/4", "6/8"],
)
def test_no_rhythm_is_easier_than_the_one_before_and_none_is_a_leap(meter, number):
    """By the same measure: no step is over 0.6; none goes down, but for what so few lines differ by chance."""
    level, seeds = LEVELS[number - 1], range(how_many(60, by_default=10))
    lines = [
        [line(level, seed=seed, meter=meter, rhythm=rhythm) for seed in seeds]
        for rhythm in range(1, 6 if meter.compound else 7)
    ]
    means = [mean(difficulty(made.bars, made.reading).page_total for made in row) for row in lines]
    slack = how_many(5, by_default=25) / 100
    assert all(before - slack < after < before + 0.6 + slack for before, after in pairwise(means)), means


def test_each_chord_stands_above_its_bar_and_lines_over_changes_swing():
    for level in LEVELS:
        made = line(level)
        assert all(bool(bar.chords) is not bar.pickup for bar in made.bars)
        assert made.swung is (True if level.method is LineMethod.CHANGES else None)


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (lambda: level_of(9), "there is no level 9: choose 1"),
        (lambda: key_named("H"), "no key is called 'H'"),
        (lambda: line(LEVELS[0], bars=1), "a line of 1 bars cannot be made"),
        (lambda: line(LEVELS[0], bars=500), "choose 2 to 64"),
        (lambda: line(LEVELS[0], rhythm=7), r"there is no rhythm 7: choose 1 \(whole beats\) to 6 \(triplets\)"),
        (
            lambda: line(LEVELS[0], rhythm=6, meter=Meter(6, 8)),
            "three eighths already, no triplets: choose rhythm 1 to 5",
        ),
        (lambda: line(LEVELS[6], meter=Meter(6, 8)), "cannot be written in 6/8: choose 4/4, 3/4"),
        (lambda: line(LEVELS[0], meter=Meter(5, 4)), "cannot be written in 5/4: choose 2/4"),
        (lambda: line(LEVELS[6], "D#m"), "changes in D#m need double sharps or flats: choose another key"),
    ],
)
def test_what_cannot_be_is_refused_with_what_to_do(wrong, message):
    with refusal(TuneError, message):
        wrong()


def test_every_level_goes_with_every_rhythm():
    for level in LEVELS:
        for rhythm in RHYTHMS:
            made = line(level, rhythm=rhythm.number)
            triplets = any(isinstance(e, Note) and e.value.tuplet for bar in made.bars for e in bar.events)
            assert rhythm.number == 6 or not triplets
