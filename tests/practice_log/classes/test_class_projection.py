"""What is kept of a log in a class is what the log itself says."""

from datetime import date

from game.coach.notes.slow_notes import slow_notes
from game.coach.stages import Stage
from game.practice_log.classes.class_projection import mark_rows, passage_row, projected
from game.practice_log.queries.figures import figures_of
from game.practice_log.rows.entry_rows import About
from game.practice_log.rows.log_records import Terms
from tests.practice_log.classes.students import ADA, Pupil, student
from tests.practice_log.transfer.practised import TUNES
from tests.report.month import LINES


def test_takes_days_passages_and_marks_are_those_of_the_figures():
    computer = student(ADA, 1, steps=30)
    with figures_of(computer.log, ADA.uuid) as figures:
        now = projected(computer.log, ADA.uuid, figures)
        assert [day[0] for day in now.days] == [day.day.isoformat() for day in figures.days()]
        assert sum(day[2] for day in now.days) == len(now.takes)
        assert [passage_row(one)[0] for one in now.passages] == [one.key for one in figures.passages()]
        assert all(
            [(mark, day) for mark, _, day in mark_rows(one)] == [(mark, day.isoformat()) for mark, day in one.marks]
            for one in now.passages
        )
    assert len({take.entry_key for take in now.takes}) == len({take.judged_key for take in now.takes}) == len(now.takes)
    assert [take.when[0] for take in now.takes] == sorted(take.when[0] for take in now.takes)


def test_slow_notes_are_those_that_the_game_calls_slow():
    pupil = Pupil(ADA, 1)
    for day, tune in enumerate((*TUNES[:2], *LINES[1:]), start=1):
        pupil.day(date(2026, 11, day), Terms(stage=Stage.PLACES), right=0.2, takes=2, tune=tune)
    log = pupil.computer.log
    with figures_of(log, ADA.uuid) as figures:
        wanted = slow_notes(figures.items(), figures.newest_map())
        rows = [row for row in projected(log, ADA.uuid, figures).slow if row[0] == 1]
    assert wanted
    assert [(row[2], row[4], row[5], row[6]) for row in rows] == [
        (one.key.written, one.key.place.string, one.key.place.fret, one.find_s) for one in wanted
    ]


def test_an_assignment_counts_once_from_when_it_was_opened_first_and_nonsense_is_passed_over():
    computer = student(ADA, 1, steps=2)
    told = {"digest": "d", "title": "For Monday", "due": "2026-12-07", "text": "x"}
    computer.say(About.ASSIGNMENT, **told)
    first = computer.now
    computer.minutes += 60
    computer.say(About.ASSIGNMENT, **told)
    computer.say(About.ASSIGNMENT, digest=3, title=None)
    with figures_of(computer.log, ADA.uuid) as figures:
        (row,) = projected(computer.log, ADA.uuid, figures).assignments
    assert row == ("d", int(first.timestamp() * 1_000_000), "For Monday", "2026-12-07", "x")
