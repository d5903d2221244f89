"""What the desk keeps of a player stands in the log: signature, signed pages, programme, courses, steps of the plan."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from game.coach.plan.course import Course, CourseBars
from game.coach.plan.next_map import NextMapAnswer, NextMapSaid
from game.coach.plan.plan_steps import StepKind
from game.coach.plan.programme import Programme
from game.coach.plan.sitting_aim import AimKind, SittingAim
from game.player.desk_facts import (
    ABOUT_DESK,
    DeskFacts,
    StepDone,
    course_bars_content,
    fluent_map_content,
    next_map_content,
    step_content,
)
from game.player.kept_signature import PlayerSignature
from game.player.player_log import PlayerLog
from game.practice_log.queries.facts import Fact
from game.practice_log.rows.entry_rows import About

NOW = datetime(2026, 11, 29, 19, tzinfo=UTC)
DAY = NOW.date()
A, B = "a" * 32, "b" * 32
BARS = CourseBars(passage=A, round=1, wrong=2, notes=16, seconds=31.5, day=DAY.toordinal())
BOOK = Course(title="Forty Solos", tunes=("one", "two"), bars_a_day=4)


def heard(*facts):
    desk = DeskFacts()
    for about, content in facts:
        desk.hear(Fact(about, content, 0, "device"))
    return desk


def kept(desk):
    return (
        desk.aim_on(DAY),
        desk.signature,
        desk.signed,
        desk.programme,
        desk.courses,
        desk.course_bars(BOOK.title),
        desk.steps_on(DAY),
    )


def test_all_of_it_is_known_again_at_the_next_start(tmp_path):
    log = PlayerLog(tmp_path, lambda: NOW)
    log.facts.keep_signature(PlayerSignature(typed="Ada"))
    log.facts.sign_page(A)
    log.facts.pick_programme(Programme(tunes=("one", "two", "three")))
    log.facts.play_programme()
    log.facts.keep_course(BOOK)
    log.facts.play_course_bars(BOOK.title, BARS)
    half = StepDone(kind=StepKind.PASSAGE, minutes=2.5, over=False, passage=A)
    log.facts.spend_on_step(DAY, half)
    log.facts.spend_on_step(DAY, StepDone(kind=StepKind.NEW_TUNE, minutes=0.0, skipped=True, tune="one"))
    now = kept(log.facts.desk)
    assert log.close() is None
    again = PlayerLog(tmp_path, lambda: NOW)
    assert kept(again.facts.desk) == now
    now = now[1:]
    assert now[0].typed == "Ada"
    assert now[1] == {A: DAY}
    assert now[2] == Programme(tunes=("one", "two", "three"), played=(DAY,))
    assert now[3:5] == ((BOOK,), (BARS,))
    assert now[5][0] == half
    assert [step.skipped for step in now[5]] == [False, True]
    again.close()


def test_the_aim_of_a_day_is_the_one_that_was_said_first_on_whatever_device(tmp_path):
    log, aim = PlayerLog(tmp_path, lambda: NOW), SittingAim(kind=AimKind.CLEAN, passage=A, bpm=70)
    assert log.facts.desk.aim_on(DAY) is None
    log.facts.aim_at(DAY, aim)
    log.facts.aim_at(DAY, replace(aim, bpm=96))
    assert log.facts.desk.aim_on(DAY) == aim
    assert log.close() is None
    again = PlayerLog(tmp_path, lambda: NOW)
    assert again.facts.desk.aim_on(DAY) == aim
    again.close()
    told = {"day": DAY.isoformat(), "kind": "notes met", "count": 5}
    assert heard((About.AIM, told), (About.AIM, told | {"count": 9})).aim_on(DAY).count == 5


def test_a_page_is_signed_once_and_the_newest_signature_holds():
    pages = [(About.SIGNED_PAGE, {"passage": A, "day": day}) for day in ("2026-11-20", "2026-11-28")]
    assert heard(*pages).signed == {A: date(2026, 11, 20)}
    names = [(About.SIGNATURE, {"typed": name}) for name in ("Ada", "A. B.")]
    assert heard(*names, (About.SIGNATURE, {"typed": ""})).signature.typed == "A. B."


def test_a_slip_of_paper_that_was_offered_stays_so(tmp_path):
    log = PlayerLog(tmp_path, lambda: NOW)
    assert not log.facts.desk.slip_offered
    log.facts.offer_slip()
    assert log.close() is None
    again = PlayerLog(tmp_path, lambda: NOW)
    assert again.facts.desk.slip_offered
    again.close()


def test_another_choice_of_tunes_is_another_programme_and_none_is_none():
    evening = (About.PROGRAMME, {"tunes": ["one", "two"]})
    played = (About.PROGRAMME_PLAYED, {"tunes": ["one", "two"], "day": "2026-11-29"})
    assert heard(evening, played, evening).programme.played == (DAY,)
    assert heard(evening, played, (About.PROGRAMME, {"tunes": ["two"]})).programme == Programme(tunes=("two",))
    assert heard(evening, (About.PROGRAMME, {"tunes": []})).programme is None
    assert heard((About.PROGRAMME, {"tunes": ["other"]}), played).programme.played == ()


def test_a_course_that_ended_and_begins_again_goes_on_where_it_was():
    told = {"title": BOOK.title, "tunes": ["one"]}
    bars = {"course": BOOK.title, "passage": A, "round": 1, "wrong": 99, "notes": 8, "seconds": 9, "day": 740_000}
    desk = heard((About.COURSE, told), (About.COURSE_BARS, bars), (About.COURSE, told | {"tunes": []}))
    assert desk.courses == ()
    desk.hear(Fact(About.COURSE, told, 0, "device"))
    assert [course.bars_a_day for course in desk.courses] == [8]
    assert [one.wrong for one in desk.course_bars(BOOK.title)] == [8], "no more than there are notes"


@pytest.mark.parametrize("about", ABOUT_DESK)
@pytest.mark.parametrize(
    "content",
    [
        {},
        {"day": "someday", "kind": "warm-up", "minutes": 1},
        {"day": "2026-11-29", "kind": "juggling", "minutes": 1},
        {"day": "2026-11-29", "kind": "warm-up", "minutes": -1},
        {"passage": "../../etc", "day": "2026-11-29"},
        {"tunes": ["../up"], "title": "x", "day": "2026-11-29"},
        {"tunes": 7, "title": "x"},
        {"title": "", "tunes": ["one"], "day": 3},
        {"title": "x", "tunes": ["one"], "bars_a_day": 10**9, "day": 3},
        {"course": "x", "passage": A, "round": 9, "wrong": 1, "notes": 1, "seconds": 1, "day": 1},
    ],
)
def test_what_makes_no_sense_is_passed_over(about, content):
    desk = heard((about, content))
    if about is About.PROGRAMME:
        desk.programme = None
    assert kept(desk) == kept(DeskFacts())


def test_minutes_of_another_day_are_not_of_this_one():
    told = {"day": "2026-11-28", "kind": "warm-up", "minutes": 1}
    assert heard((About.PLAN_STEP, told)).steps_on(DAY) == ()
    assert heard((About.PLAN_STEP, told | {"day": "2026-11-29"})).steps_on(DAY) == (
        replace(StepDone(kind=StepKind.WARM_UP, minutes=1.0)),
    )


def test_a_page_cut_anew_is_signed_and_played_where_all_its_former_pages_were():
    new, other = "c" * 32, "d" * 32
    former = [{"key": key, "first": first, "last": first + 7, "shift": 0} for key, first in ((A, 1), (B, 9))]
    signed = [(About.SIGNED_PAGE, {"passage": key, "day": f"2026-11-2{at}"}) for at, key in enumerate((A, B), 4)]
    played = [(About.COURSE_BARS, course_bars_content(BOOK.title, replace(BARS, passage=key))) for key in (A, B)]
    cut = (About.CUT_ANEW, {"is": new, "former": former})
    desk = heard(*signed, *played, cut, cut, (About.CUT_ANEW, {"is": other, "former": []}))
    assert desk.signed == {A: date(2026, 11, 24), B: date(2026, 11, 25), new: date(2026, 11, 25)}
    assert [one.passage for one in desk.course_bars(BOOK.title)] == [A, B, new]
    half = heard(signed[0], played[0], cut)
    assert (list(half.signed), len(half.course_bars(BOOK.title))) == ([A], 1)


def test_a_page_that_was_corrected_stays_signed_and_played():
    new = "c" * 32
    signed = (About.SIGNED_PAGE, {"passage": A, "day": "2026-11-24"})
    played_bars = replace(BARS, passage=A)
    played = (About.COURSE_BARS, course_bars_content(BOOK.title, played_bars))
    renamed = (About.RENAMED_PASSAGE, {"was": {"key": A, "bars": []}, "is": {"key": new, "bars": []}})
    desk = heard(signed, played, renamed, renamed)
    assert desk.signed == {A: date(2026, 11, 24), new: date(2026, 11, 24)}
    assert desk.course_bars(BOOK.title) == (played_bars, replace(played_bars, passage=new))


def test_an_evening_counts_on_which_something_was_done_and_today_does_not():
    def step(days_ago, *, skipped=False):
        day = DAY - timedelta(days_ago)
        return About.PLAN_STEP, step_content(day, StepDone(kind=StepKind.PASSAGE, minutes=3.0, skipped=skipped))

    desk = heard(step(9), step(9), step(4), step(3, skipped=True), step(0))
    assert desk.days_before(DAY) == 2
    assert desk.days_before(DAY - timedelta(9)) == 0


def test_a_map_was_fluent_from_the_day_it_was_said_first_and_the_newest_answer_to_the_next_one_holds():
    desk = DeskFacts()
    first, later = date(2026, 11, 24), date(2026, 12, 1)
    for day in (first, later):
        desk.hear(Fact(About.FLUENT_MAP, fluent_map_content("V", day), 0, "device"))
    for answer, day in ((NextMapAnswer.POSTPONED, first), (NextMapAnswer.DECLINED, later)):
        desk.hear(Fact(About.NEXT_MAP, next_map_content("V", NextMapSaid(answer, day)), 0, "device"))
    for nonsense in ({"map": ""}, {"map": "V", "day": "never"}, {"map": "V", "day": "2026-12-02", "answer": "maybe"}):
        desk.hear(Fact(About.NEXT_MAP, nonsense, 0, "device"))
    assert desk.fluent_maps == {"V": first}
    assert desk.next_maps == {"V": NextMapSaid(NextMapAnswer.DECLINED, later)}
