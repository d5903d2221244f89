"""A coach and a log side by side, for tests of what comes back."""

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


class Practice:
    """A coach and a log side by side."""

    def __init__(self, log):
        self.log, self.state, self.said = log, CoachState(), []

    def happen(self, event, take=None):
        self.state, decision = advance(self.state, event)
        self.said.append((event, decision))
        put_decision(self.log, recorded(self.log, MORNING + timedelta(minutes=len(self.said))), event, decision, take)

    def play(self, terms, *, day, sighting=None, **how):
        take = begun(terms, sighting=sighting)
        number = put_take(self.log, take, DEVICE)
        judgement = judged(take, notes_of(take, **how))
        put_ending(self.log, number, ended(judgement), DEVICE)
        self.happen(coach_result(take, FACTS, day=day, judgement=judgement), number)


def some_days(log):
    """Places, letters, a wish, and the metronome, over three days."""
    practice = Practice(log)
    practice.happen(PassageOpened(passage=FACTS, day=1))
    for nth in range(1, 4):
        practice.play(Terms(stage=Stage.PLACES), day=1, sighting=Sighting(nth=nth), gap_s=0.61, wrong={nth})
    practice.happen(PassageOpened(passage=FACTS, day=2, begin_at=Stage.LETTERS))
    practice.happen(Overruled(passage=FACTS, day=2, wish=Wish.METRONOME_NOW, tempo_bpm=66))
    timed = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=66.0)
    practice.play(timed, day=2, sighting=Sighting(nth=4, heard=True))
    practice.happen(Overruled(passage=FACTS, day=2, wish=Wish.SLOWER))
    practice.play(timed, day=3, sighting=Sighting(nth=5, known_by_ear=True), wrong={1, 2, 3})
    return practice
