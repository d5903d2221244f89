"""What a gathered class tells of a student is what their own log tells, question by question."""

import json
from dataclasses import asdict
from datetime import date, timedelta
from random import Random

import pytest

from game.coach.stages import Stage
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.practice_log.classes.class_figures import ClassFigures
from game.practice_log.classes.class_schema import table_statements
from game.practice_log.classes.class_writing import put_practice
from game.practice_log.queries.figures import figures_of
from game.practice_log.queries.marked_takes import MOST_KEPT, counted_marks, number_of_take
from game.practice_log.rows.entry_rows import About
from game.practice_log.rows.judgement_rows import judgement_of, put_ending
from game.practice_log.rows.log_records import Terms
from game.practice_log.rows.take_rows import put_take, takes_where
from tests.practice_log.classes.students import ADA, BEN, Pupil, student
from tests.practice_log.logged_takes import begun, ended, judged, notes_of
from tests.practice_log.opened_log import in_memory
from tests.practice_log.transfer.practised import TUNES
from tests.report.month import LINES
from tests.sampling import sample

MAPS = (standard_map(), standard_map(position=2), standard_map(choices={60: Place(5, 15)}))


def gathered(log, player, into=None):
    """A class of this one."""
    connection = into or in_memory()
    if into is None:
        for statement in table_statements(id_type="BLOB", ending=" WITHOUT ROWID"):
            connection.execute(statement)
    put_practice(connection, player.uuid, log)
    return connection


def somebody(seed):
    """A log in which everything comes: maps, stages, zones, breaks, faults, marks and facts, on any day."""
    rng = Random(f"somebody {seed}")
    computer = student(ADA, 1, steps=rng.randrange(5, 25), seed=seed)
    log = computer.log
    for _ in range(rng.randrange(5, 30)):
        computer.minutes += rng.choice((3, 60, 1440, 3 * 1440))
        stage = rng.choice((Stage.PLACES, Stage.PLACES, Stage.RHYTHM, Stage.TIME))
        terms = Terms(stage=stage, tempo_bpm=None if stage is Stage.PLACES else rng.choice((60.0, 92.5)))
        tune = rng.choice((*TUNES, *LINES))
        take = begun(terms, tune=tune, player=ADA, neck_map=rng.choice(MAPS))
        take = type(take)(**{name: getattr(take, name) for name in take.__slots__} | {"started_at": computer.now})
        number = put_take(log, take, computer.device)
        wrong = {note.n for note in take.asked.notes if rng.random() < 0.4}
        judgement = judged(take, notes_of(take, wrong=wrong, gap_s=rng.choice((0.7, 1.9, 3.0))))
        put_ending(log, number, ended(judgement), computer.device)
    computer.say(About.SETTING, name="capo", value=rng.randrange(0, 4))
    computer.say(About.SETTING, name="left_handed", value=rng.random() < 0.5)
    return log


def told(figures, today):
    """All that is asked of a student's figures, in a form that can be compared."""
    maps = figures.maps()
    return {
        "days": [asdict(day) for day in figures.days()],
        "notes": [asdict(note) for weeks in (1, 4) for note in figures.notes(today, 7 * weeks)],
        "before": [asdict(note) for note in figures.notes(today - timedelta(days=7), 7)],
        "passages": [asdict(passage) for passage in figures.passages()],
        "wrong": [asdict(wrong) for wrong in figures.went_wrong(today, 7)],
        "wrong of a month": [asdict(wrong) for wrong in figures.went_wrong(today, 28, most=5)],
        "maps": maps,
        "newest": figures.newest_map(),
        "slow": [figures.slow_notes(one) for one in maps],
        "held": figures.held(),
    }


@pytest.mark.parametrize("seed", sample(range(40), by_default=3))
def test_every_figure_of_a_gathered_student_is_that_of_their_log_on_whatever_day(seed):
    log = somebody(seed)
    into = gathered(log, ADA)
    gathered(student(BEN, 2, steps=10, seed=seed).log, BEN, into)
    here = ClassFigures(into, ADA.uuid)
    with figures_of(log, ADA.uuid) as there:
        days = [day.day for day in there.days()]
        for today in (days[0], days[len(days) // 2], days[-1], days[-1] + timedelta(days=3)):
            wanted, found = told(there, today), told(here, today)
            for what in wanted:
                assert _rounded(found[what]) == _rounded(wanted[what]), (what, today)


def test_the_random_logs_hold_what_is_compared():
    found = {}
    for seed in range(2):
        log = somebody(seed)
        with figures_of(log, ADA.uuid) as figures:
            for what, held in told(figures, figures.days()[-1].day).items():
                found[what] = found.get(what, 0) + (len(held) if isinstance(held, list | tuple) else 1)
    assert all(found.values()), found
    assert found["maps"] > 2


@pytest.mark.parametrize("seed", sample(range(40), by_default=3))
def test_the_marked_take_of_a_week_is_the_one_with_the_most_marks_whichever_later_day_it_ends(seed):
    log = somebody(seed)
    here = ClassFigures(gathered(log, ADA), ADA.uuid)
    with figures_of(log, ADA.uuid) as figures:
        last = figures.days()[-1].day
        all_kept = list(here.marked_takes(last, 7))
        for later in range(8):
            today = last + timedelta(days=later)
            counted = counted_marks(log, today - timedelta(days=6), today)
            kept = list(here.marked_takes(today, 7))
            if counted and (kept or len(all_kept) < MOST_KEPT):
                wanted = counted[0]
                assert (kept[0].day, kept[0].number) == (wanted.day, number_of_take(log, wanted.take))
            else:
                assert kept == []


def test_a_marked_take_is_drawn_of_what_the_log_holds():
    pupil = Pupil(ADA, 1)
    pupil.day(date(2026, 11, 25), Terms(stage=Stage.PLACES), right=0.3, takes=1)
    log = pupil.computer.log
    into = gathered(log, ADA)
    (found,) = ClassFigures(into, ADA.uuid).marked_takes(date(2026, 11, 28), 7)
    (logged,) = takes_where(log, "1", ())
    assert (found.bars, found.terms, found.asked) == (logged.begun.bars, logged.begun.terms, logged.begun.asked)
    wanted = judgement_of(log, logged.take)
    assert [(one.n, one.verdict, one.cause, one.time_to_find_ms) for one in found.judgement.verdicts] == [
        (one.n, one.verdict, one.cause, one.time_to_find_ms) for one in wanted.verdicts
    ]
    assert [one.first and one.first.sounding for one in found.judgement.verdicts] == [
        one.first and one.first.sounding for one in wanted.verdicts
    ]
    (size,) = into.execute("SELECT SUM(LENGTH(content)) FROM marked_take").fetchone()
    assert size < 4_000


def test_somebody_who_is_not_in_the_class_has_no_figures():
    figures = ClassFigures(gathered(student(BEN, 2).log, BEN), ADA.uuid)
    today = date(2026, 11, 30)
    assert (figures.days(), figures.notes(today, 7), figures.passages(), figures.maps()) == ((), (), (), ())
    assert figures.newest_map() is None
    assert list(figures.marked_takes(today, 7)) == []


def _rounded(value):
    """Times stand to the microsecond in a class."""
    return json.loads(json.dumps(value, default=repr), parse_float=lambda text: round(float(text), 5))
