"""What was set is held against what was done: which takes count, and when a part is done."""

from dataclasses import replace
from datetime import date

import pytest

from game.assignments.assignment import AssignedLines, AssignedTune, Assignment
from game.assignments.set_against_done import PartMusic, meets, parts_of, set_against_done
from game.coach.events import PassageFacts, TakeResult
from game.coach.notes.map_identity import map_key
from game.coach.stages import Stage
from game.neck.neck_map import standard_map
from game.neck.tuning import Place

DAY = date(2026, 11, 30).toordinal()
FIFTH, SEVENTH = map_key(standard_map(position=5)), map_key(standard_map(position=7))
ONE, TWO, ALL = "1" * 32, "2" * 32, "f" * 32
TUNE = AssignedTune(title="Ode to Joy", stages=(Stage.PLACES, Stage.TIME), target_bpm=72)
MUSIC = PartMusic(part=0, pages=(ONE, TWO), whole=ALL, neck_map=FIFTH)


def take(key=ONE, stage=Stage.PLACES, day=DAY, bpm=None, notes=20, clean=None, neck_map=FIFTH, **more):
    clean = notes if clean is None else clean
    facts = PassageFacts(name=key)
    return neck_map, TakeResult(passage=facts, day=day, stage=stage, tempo_bpm=bpm, homes=notes, clean=clean, **more)


def done_of(*takes, parts=(TUNE,), music=(MUSIC,), due=None, today=DAY, neck_map=None):
    tunes = tuple(part for part in parts if isinstance(part, AssignedTune))
    lines = tuple(part for part in parts if isinstance(part, AssignedLines))
    assignment = Assignment(title="A week", due=due, tunes=tunes, lines=lines, neck_map=neck_map)
    return set_against_done(assignment, music, takes, opened=DAY, today=today)


def stages(done, part=0):
    return [stage.done for stage in done.parts[part].stages]


@pytest.mark.parametrize(
    ("stage", "result", "is_met"),
    [
        (Stage.PLACES, take(), True),
        (Stage.PLACES, take(clean=19, wrong_notes=frozenset({3})), False),
        (Stage.PLACES, take(notes=15, unread=5), False),
        (Stage.LETTERS, take(stage=Stage.LETTERS, clean=18), True),
        (Stage.LETTERS, take(stage=Stage.LETTERS, clean=17), False),
        (Stage.RHYTHM, take(stage=Stage.RHYTHM, off_time=2), True),
        (Stage.RHYTHM, take(stage=Stage.RHYTHM, off_time=3), False),
        (Stage.TIME, take(stage=Stage.TIME), False),
        (Stage.TIME, take(stage=Stage.TIME, bpm=72, clean=18), True),
        (Stage.TIME, take(stage=Stage.TIME, bpm=90), True),
        (Stage.TIME, take(stage=Stage.TIME, bpm=71), False),
        (Stage.TIME, take(stage=Stage.TIME, bpm=72, stops=1), False),
        (Stage.TIME, take(stage=Stage.SIGHT, bpm=72), False),
        (None, take(stage=Stage.TIME, bpm=72), True),
        (Stage.SIGHT, take(stage=Stage.SIGHT, clean=3), True),
        (Stage.SIGHT, take(stage=Stage.SIGHT, unread=1), False),
        # Of what a microphone could not tell, nobody knows.
        (Stage.SIGHT, take(stage=Stage.SIGHT, notes=10, unsure=10), False),
    ],
)
def test_a_stage_is_done_by_one_take_that_meets_its_rule(stage, result, is_met):
    assert meets(stage, result[1], 72) is is_met


def test_a_tempo_that_no_metronome_goes_at_is_met_by_the_nearest():
    assert meets(Stage.TIME, take(stage=Stage.TIME, bpm=30)[1], 12)


def test_a_tune_is_done_page_by_page_or_in_one():
    assert stages(done_of()) == [False, False]
    half = done_of(take(ONE))
    assert (half.parts[0].stages[0].pages_done, half.parts[0].stages[0].pages) == (1, 2)
    assert stages(done_of(take(ONE), take(TWO, day=DAY + 1), today=DAY + 1)) == [True, False]
    assert stages(done_of(take(ALL))) == [True, False]
    whole = done_of(take(ALL), take(ALL, stage=Stage.TIME, bpm=80))
    assert (whole.done, whole.left, whole.parts[0].next_up.stage) == (True, 0, Stage.TIME)


def test_the_stage_that_is_next_is_the_first_that_is_left():
    assert done_of().parts[0].next_up.stage is Stage.PLACES
    assert done_of(take(ALL)).parts[0].next_up.stage is Stage.TIME
    # Whoever plays it in time first has still to find it.
    assert done_of(take(ALL, stage=Stage.TIME, bpm=72)).parts[0].next_up.stage is Stage.PLACES


def test_the_page_that_is_left_is_the_first_that_is_not_done():
    def left(*takes):
        return done_of(*takes).parts[0].stages[0].page_left

    assert (left(), left(take(ONE)), left(take(TWO)), left(take(ONE), take(TWO)), left(take(ALL))) == (0, 1, 0, 0, 0)


def test_what_was_played_before_it_was_opened_or_is_not_over_yet_does_not_count():
    assert stages(done_of(take(ALL, day=DAY - 1))) == [False, False]
    assert stages(done_of(take(ALL, day=DAY + 1))) == [False, False]


def test_where_a_map_was_set_takes_on_another_do_not_count():
    elsewhere = take(ALL, neck_map=SEVENTH)
    assert stages(done_of(elsewhere)) == [True, False]
    assert stages(done_of(elsewhere, neck_map=standard_map(position=5))) == [False, False]
    moved = map_key(standard_map(position=5, choices={64: Place(3, 9)}))
    assert stages(done_of(take(ALL, neck_map=moved), neck_map=standard_map(position=5))) == [True, False]


def test_read_at_another_octave_it_is_the_same_part():
    other = replace(MUSIC, pages=("a" * 32,), whole="a" * 32)
    assert stages(done_of(take("a" * 32), music=(MUSIC, other))) == [True, False]


def lines_of(*days, stage=Stage.SIGHT):
    """Lines, each read on a day, as music and takes."""
    keys = [f"{number:032x}" for number, _ in enumerate(days)]
    music = [PartMusic(part=0, pages=(key,), whole=key, neck_map=FIFTH) for key in keys]
    return music, [take(key, stage=stage, day=day) for key, day in zip(keys, days, strict=True)]


def test_lines_are_counted_by_the_players_day():
    part = AssignedLines(level=1, a_day=2, stages=(Stage.SIGHT,))
    music, takes = lines_of(DAY, DAY, DAY + 1)
    done = done_of(*takes, parts=(part,), music=music, due=date.fromordinal(DAY + 6), today=DAY + 1)
    (lines,) = done.parts
    assert (lines.today, lines.days, lines.days_wanted, lines.days_so_far) == (1, 1, 5, 2)
    assert not done.done_today
    music, takes = lines_of(DAY, DAY, DAY + 1, DAY + 1)
    assert done_of(*takes, parts=(part,), music=music, due=date.fromordinal(DAY + 6), today=DAY + 1).done_today


def test_lines_of_a_week_are_done_on_five_of_its_days_and_what_was_missed_is_made_up():
    part = AssignedLines(level=1, stages=(Stage.SIGHT,))
    due = date.fromordinal(DAY + 6)
    music, takes = lines_of(*range(DAY, DAY + 4))
    late = done_of(*takes, parts=(part,), music=music, due=due, today=DAY + 8)
    assert (late.done, late.overdue) == (False, True)
    music, takes = lines_of(*range(DAY, DAY + 4), DAY + 8)
    assert done_of(*takes, parts=(part,), music=music, due=due, today=DAY + 8).done


def test_a_line_counts_on_the_day_of_the_last_of_its_stages_and_once():
    part = AssignedLines(level=1, stages=(Stage.PLACES, Stage.RHYTHM))
    music, takes = lines_of(DAY, stage=Stage.PLACES)
    under_way = done_of(*takes, parts=(part,), music=music)
    assert (stages(under_way), under_way.parts[0].today) == ([True, False], 0)
    key = music[0].whole
    rhythm = [take(key, stage=Stage.RHYTHM, day=DAY + 1)] * 2
    after = done_of(*takes, *rhythm, parts=(part,), music=music, today=DAY + 1)
    assert (after.parts[0].today, after.parts[0].days, after.done) == (1, 1, True)


def test_overdue_is_what_is_undone_past_its_day():
    due = date.fromordinal(DAY + 1)
    assert not done_of(due=due, today=DAY + 1).overdue
    assert done_of(due=due, today=DAY + 2).overdue
    everything = (take(ALL), take(ALL, stage=Stage.TIME, bpm=72))
    assert not done_of(*everything, due=due, today=DAY + 2).overdue


def test_parts_come_in_the_order_in_which_they_are_numbered():
    lines = AssignedLines(level=2)
    assert parts_of(Assignment(title="A week", tunes=(TUNE,), lines=(lines,))) == (TUNE, lines)
