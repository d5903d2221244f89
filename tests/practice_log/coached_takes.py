"""A coach and a log side by side, for tests of what comes back."""

from dataclasses import replace
from datetime import timedelta

from game.coach.coach import advance
from game.coach.events import Overruled, PassageFacts, PassageOpened, Wish
from game.coach.records import CoachState
from game.coach.stages import Pulse, Stage
from game.practice_log.rows.decision_rows import coach_result, put_decision
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import Sighting, Terms
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, begun, ended, judged, notes_of, recorded

FACTS = PassageFacts(name="ford", notes_per_beat=0.75, usual_note_beats=1.0, target_bpm=92)


def day_number(day):
    """The first day is that of `MORNING`."""
    return MORNING.date().toordinal() + day - 1


class Practice:
    """A coach and a log side by side; on each day, something happens every minute."""

    def __init__(self, log):
        self.log, self.state, self.said, self.at = log, CoachState(), [], []

    def happen(self, event, take=None):
        at = MORNING + timedelta(days=event.day - day_number(1), minutes=len(self.said) + 1)
        self.state, decision = advance(self.state, event)
        self.said.append((event, decision))
        self.at.append(at)
        put_decision(self.log, recorded(self.log, at), event, decision, take)

    def play(self, terms, *, day, sighting=None, **how):
        minutes = 24 * 60 * (day - 1) + len(self.said)
        take = replace(begun(terms, sighting=sighting), started_at=MORNING + timedelta(minutes=minutes + 0.5))
        number = put_take(self.log, take, DEVICE)
        judgement = judged(take, notes_of(take, **how))
        put_ending(self.log, number, ended(judgement, minutes=minutes + 0.8), DEVICE)
        self.happen(coach_result(take, FACTS, day=day_number(day), judgement=judgement), number)


def some_days(log):
    """Places, letters, a wish, and the metronome, over three days."""
    practice = Practice(log)
    practice.happen(PassageOpened(passage=FACTS, day=day_number(1)))
    for nth in range(1, 4):
        practice.play(Terms(stage=Stage.PLACES), day=1, sighting=Sighting(nth=nth), gap_s=0.61, wrong={nth})
    practice.happen(PassageOpened(passage=FACTS, day=day_number(2), begin_at=Stage.LETTERS))
    practice.happen(Overruled(passage=FACTS, day=day_number(2), wish=Wish.METRONOME_NOW, tempo_bpm=66))
    timed = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=66.0)
    practice.play(timed, day=2, sighting=Sighting(nth=4, heard=True))
    practice.happen(Overruled(passage=FACTS, day=day_number(2), wish=Wish.SLOWER))
    practice.play(timed, day=3, sighting=Sighting(nth=5, known_by_ear=True), wrong={1, 2, 3})
    return practice
