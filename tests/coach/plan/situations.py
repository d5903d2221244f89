"""Situations for the tests of today's plan."""

from dataclasses import replace

from game.coach.marks import Mark
from game.coach.plan.plan_steps import PassageStanding, Situation, UnseenTune
from game.coach.stages import Stage
from game.message import verbatim
from tests.coach.judged_takes import MAP, after, judged

FORD = PassageStanding(
    name="ford", title=verbatim("The Ford, bars 1–4"), marks=(Mark.FOUND,), stage=Stage.RHYTHM, last_day=98
)


MILL = PassageStanding(
    name="mill",
    title=verbatim("The Mill, bars 5–8"),
    stage=Stage.TIME,
    marks=(Mark.FOUND, Mark.IN_TIME),
    tempo_bpm=72,
    target_bpm=96,
    last_day=99,
)


DONE = PassageStanding(
    name="gate",
    title=verbatim("The Gate"),
    stage=Stage.TIME,
    marks=tuple(Mark),
    tempo_bpm=96,
    target_bpm=96,
    last_day=60,
)


OLD = replace(DONE, name="oak", title=verbatim("The Oak"), last_day=40)


TUNES = (
    UnseenTune(name="heron", title="The Heron", difficulty=2.0),
    UnseenTune(name="plain", title="A Plain One", difficulty=1.0),
    UnseenTune(name="storm", title="The Storm", difficulty=7.0),
)


FULL = {"passages": (FORD, MILL, DONE, OLD), "unseen": TUNES}


def read():
    return after(*(judged("F4 G4 A4 B4 C5", find_ms=[700.0, 700.0, 3100.0, 900.0, 1900.0], sighting=n) for n in (1, 2)))


def situation(**changes):
    return Situation(**{"day": 101, "neck_map": MAP, "level": 2, "items": read(), **FULL} | changes)


def kinds(steps):
    return [step.kind for step in steps]


def one(steps, kind):
    return next(step for step in steps if step.kind is kind)
