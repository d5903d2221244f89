"""A coach and a log side by side, for tests of what comes back."""

from dataclasses import replace
from datetime import timedelta

from game.coach.coach import advance
from game.coach.events import Overruled, PassageFacts, PassageOpened, Wish
from game.coach.records import CoachState
from game.coach.stages import Pulse, Stage
from game.practice_log.rows.bar_contents import stretch_of
from game.practice_log.rows.decision_rows import coach_result, put_decision
from game.practice_log.rows.entry_rows import About, put_fact
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import Sighting, Terms
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, TUNE, begun, ended, judged, notes_of, recorded

FACTS = PassageFacts(name="ford", notes_per_beat=0.75, usual_note_beats=1.0, target_bpm=92)
MARK = "5" * 32


def day_number(day):
    """The first day is that of `MORNING`."""
    return MORNING.date().toordinal() + day - 1


class Practice:
    """A coach and a log side by side; on each day, something happens every minute."""

    def __init__(self, log):
        self.log, self.state, self.said, self.at = log, CoachState(), [], []
        self.sighting = Sighting(nth=0, known_by_ear=False)

    def happen(self, event, take=None):
        at = MORNING + timedelta(days=event.day - day_number(1), minutes=len(self.said) + 1)
        self.state, decision = advance(self.state, event)
        self.said.append((event, decision))
        self.at.append(at)
        put_decision(self.log, recorded(self.log, at), event, decision, take)

    def tell(self, about, content, *, day, **known):
        """Something is said between two takes."""
        at = MORNING + timedelta(days=day - 1, minutes=len(self.said) + 0.2)
        put_fact(self.log, recorded(self.log, at), about, content)
        self.sighting = replace(self.sighting, **known)

    def play(self, terms, *, day, **how):
        self.sighting = replace(self.sighting, nth=self.sighting.nth + 1)
        minutes = 24 * 60 * (day - 1) + len(self.said)
        take = replace(begun(terms), started_at=MORNING + timedelta(minutes=minutes + 0.5), tune=MARK)
        number = put_take(self.log, take, DEVICE)
        judgement = judged(take, notes_of(take, **how))
        put_ending(self.log, number, ended(judgement, minutes=minutes + 0.8), DEVICE)
        seen = replace(take, sighting=self.sighting)
        self.happen(coach_result(seen, FACTS, day=day_number(day), judgement=judgement), number)


def some_days(log):
    """Places, letters, a wish, and the metronome, over three days; the bars are heard, and said to be known by ear."""
    practice = Practice(log)
    practice.happen(PassageOpened(passage=FACTS, day=day_number(1)))
    for wrong in range(1, 4):
        practice.play(Terms(stage=Stage.PLACES), day=1, gap_s=0.61, wrong={wrong})
    practice.happen(PassageOpened(passage=FACTS, day=day_number(2), begin_at=Stage.LETTERS))
    practice.happen(Overruled(passage=FACTS, day=day_number(2), wish=Wish.METRONOME_NOW, tempo_bpm=66))
    timed = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=66.0)
    heard = stretch_of(TUNE)
    practice.tell(About.HEARD, {"start": heard.start, "bars": heard.bars}, day=2, heard=True)
    practice.play(timed, day=2)
    practice.happen(Overruled(passage=FACTS, day=day_number(2), wish=Wish.SLOWER))
    practice.tell(About.KNOWN_BY_EAR, {"tune": MARK, "known": True}, day=3, known_by_ear=True)
    practice.play(timed, day=3, wrong={1, 2, 3})
    return practice
