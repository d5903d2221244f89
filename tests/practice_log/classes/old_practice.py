"""Three students, of whom some practice is half a year old and older, for tests of what goes by its age."""

from datetime import date, timedelta

from game.coach.stages import Stage
from game.practice_log.rows.log_records import Terms
from tests.practice_log.classes.students import ADA, BEN, CEM, Pupil, hand_in
from tests.practice_log.transfer.practised import TUNES

TODAY = date(2026, 11, 29)
SINCE = date(2026, 5, 29)
PLACES = Terms(stage=Stage.PLACES, waits=True)
TIMED = Terms(stage=Stage.TIME, tempo_bpm=60.0)


def ada():
    """Old practice of two tunes; one of them still under way, stuck, with its fastest clean take long ago."""
    pupil = Pupil(ADA, 1)
    for week in range(4):
        pupil.day(date(2026, 1, 5) + timedelta(weeks=week), PLACES, right=1.0, tune=TUNES[2])
    for week in range(4):
        pupil.day(date(2026, 2, 2) + timedelta(weeks=week), TIMED, right=1.0)
    for day in range(4):
        pupil.day(date(2026, 5, 26) + timedelta(days=day), TIMED, right=0.5)
    for day in range(3):
        pupil.day(TODAY - timedelta(days=day), TIMED, right=0.5, takes=1)
    return pupil


def hand_in_all(folder):
    """Ada's export, Ben's with one day long ago and one now, and that of Cem, who did nothing since."""
    ben, cem = Pupil(BEN, 2), Pupil(CEM, 3)
    ben.day(date(2026, 2, 1), PLACES, right=0.9)
    ben.day(TODAY, PLACES, right=0.9)
    cem.day(date(2026, 3, 1), PLACES, right=0.9)
    for pupil in (ada(), ben, cem):
        hand_in(pupil.computer, folder / f"{pupil.player.name}.zip")
