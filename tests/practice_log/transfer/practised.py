"""Practice on several devices, with chance, for the tests of what is gathered."""

import json
from dataclasses import replace
from datetime import timedelta, timezone
from random import Random
from uuid import UUID

from game.coach.coach import advance
from game.coach.events import Overruled, PassageFacts, PassageOpened, Wish
from game.coach.records import CoachState
from game.coach.stages import Stage
from game.judging.untimed import HintStep
from game.music.names import Spelling
from game.practice_log.database.identity import Identity
from game.practice_log.documents.chosen_entries import Choice, chosen_entries
from game.practice_log.documents.decoded_documents import decoded_documents
from game.practice_log.documents.document_batch import TakenIn
from game.practice_log.documents.take_in import TakingIn
from game.practice_log.documents.written_documents import document_lines
from game.practice_log.rows.decision_rows import coach_result, put_decision
from game.practice_log.rows.entry_rows import About, Recorded, put_fact
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import HelpGiven, NameGiven, Sighting, Terms
from game.practice_log.rows.one_player import uuids_of_owner
from game.practice_log.rows.played_rows import put_help, put_name, put_played, revise_played
from game.practice_log.rows.shared_rows import put_device, put_player
from game.practice_log.rows.take_rows import put_take
from tests.made import passage
from tests.practice_log.logged_takes import MORNING, PLAYER, begun, ended, judged, notes_of
from tests.practice_log.opened_log import opened_log

TUNES = (
    passage("F4 q, G4 q, A4 q, Bb4 q", "C5 h, F#4 h", key=-1),
    passage("C5 q, A4 q, F4 q, A4 q", "G4 w", key=-1),
    passage("G4 q, A4 q", key=-1),
)
FACTS = PassageFacts(name="ford", notes_per_beat=0.75, usual_note_beats=1.0, target_bpm=92)


def device_named(number):
    return Identity(uuid=UUID(int=number), name=f"computer {number}")


class Computer:
    """A device with a log of its own, in memory or in a file, on which somebody practises with chance; a share of what
    they play is heard unsurely.
    """

    def __init__(self, number, *, path=None, player=PLAYER, seed=0, zone_minutes=60, unsure=0.0):
        self.device, self.player, self.rng = device_named(number), player, Random(f"{number} {seed}")
        self.log = opened_log(path)
        self.unsure = unsure
        self.minutes, self.zone = number, timezone(timedelta(minutes=zone_minutes))

    @property
    def now(self):
        return (MORNING + timedelta(minutes=self.minutes)).astimezone(self.zone)

    @property
    def recorded(self):
        return Recorded(put_device(self.log, self.device), put_player(self.log, self.player), self.now)

    def play(self, *, finish=True):
        """A take, played, or named; its number in the log."""
        rng, letters = self.rng, self.rng.random() < 0.2
        self.minutes += rng.randrange(1, 300)
        terms = Terms(stage=Stage.LETTERS if letters else Stage.PLACES, waits=rng.random() < 0.5)
        begun_there = begun(
            terms, tune=rng.choice(TUNES), sighting=Sighting(nth=rng.randrange(1, 5)), player=self.player
        )
        take = type(begun_there)(
            **{name: getattr(begun_there, name) for name in begun_there.__slots__} | {"started_at": self.now}
        )
        number = put_take(self.log, take, self.device)
        self.go_on(number, take)
        if finish:
            self.end(number, take)
        return number, take

    def go_on(self, number, take):
        """Something more is done in a take."""
        wrong = {note.n for note in take.asked.notes if self.rng.random() < 0.2}
        if take.terms.stage is Stage.LETTERS:
            for note in take.asked.notes[:3]:
                put_name(self.log, number, NameGiven(n=note.n, name=Spelling("F", 0), at_s=note.n / 2))
            return
        for note in self._heard(notes_of(take, wrong=wrong)):
            put_played(self.log, number, note)
            if self.rng.random() < 0.1:
                revise_played(self.log, number, note, None if self.rng.random() < 0.3 else self._heard([note])[0])
        if self.rng.random() < 0.3:
            put_help(self.log, number, HelpGiven(n=1, step=HintStep.LETTER, at_s=0.5))

    def _heard(self, notes):
        if not self.unsure:
            return notes
        return [replace(note, sure=self.rng.random() >= self.unsure) for note in notes]

    def end(self, number, take):
        """A take is judged, and the coach hears of it."""
        self.minutes += 1
        judgement = None if take.terms.stage is Stage.LETTERS else judged(take, self._heard(notes_of(take)))
        end = ended(judgement)
        put_ending(
            self.log,
            number,
            type(end)(ended_at=self.now, outcome=end.outcome, judge=end.judge, judgement=judgement),
            self.device,
        )
        if judgement is not None:
            self.hear(coach_result(take, FACTS, day=self.now.toordinal(), judgement=judgement), number)

    def hear(self, event, take=None):
        _, decision = advance(CoachState(), event)
        put_decision(self.log, self.recorded, event, decision, take)

    def open_passage(self):
        self.hear(PassageOpened(passage=FACTS, day=self.now.toordinal()))

    def overrule(self):
        self.hear(Overruled(passage=FACTS, day=self.now.toordinal(), wish=Wish.SLOWER, tempo_bpm=60))

    def say(self, about=About.SETTING, **content):
        put_fact(self.log, self.recorded, about, content or {"name": "count_in", "value": self.rng.random()})

    def practise(self, steps):
        """So many things happen, and the clock may be put back."""
        for _ in range(steps):
            what = self.rng.random()
            if what < 0.6:
                self.play(finish=self.rng.random() < 0.9)
            elif what < 0.75:
                self.say()
            elif what < 0.85:
                self.open_passage()
            elif what < 0.95:
                self.overrule()
            else:
                self.minutes -= self.rng.randrange(5, 3000)
        return self


def lines_of(log, *, with_notes=True, **choice):
    """A log as lines, or a part of it."""
    return b"".join(document_lines(log, chosen_entries(log, Choice(**choice)), with_notes=with_notes))


def empty_log(path=None):
    return opened_log(path)


def take_in(log, lines, *, player=PLAYER, accepted=()):
    """Take lines into a log of a player; what came."""
    own = put_player(log, player)
    taking = TakingIn(log, player=own, accepted={str(player.uuid), *map(str, uuids_of_owner(log)), *accepted})
    told = TakenIn()
    for documents in decoded_documents([lines]):
        told.add(taking.take_in(documents))
    told.add(taking.try_again())
    return told


def gathered(*several):
    """A new log of all these lines, taken in one after the other."""
    log = empty_log()
    for lines in several:
        take_in(log, lines)
    return log


def told(log):
    """All that a log says, told in a way that its own numbers make no difference to."""
    moments = log.execute(
        "SELECT uuid, sequence, at_us, moment_us, kind FROM entry JOIN device USING (device) ORDER BY 1, 2, 3"
    ).fetchall()
    return sorted(lines_of(log).splitlines()), moments


def changed(line, **fields):
    """A line with other content."""
    return json.dumps({**json.loads(line), **fields}).encode() + b"\n"


def split(computer):
    """A computer's lines by their kinds."""
    lines = {}
    for line in lines_of(computer.log).splitlines(keepends=True):
        lines.setdefault(json.loads(line)["kind"], []).append(line)
    return lines
