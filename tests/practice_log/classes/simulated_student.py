"""Somebody simulated at the real game, without a window: their own session, log, coach and assignments, take after take
as the coach decides. What they do wrong is a habit of theirs, played as notes; the judge is asked nothing.
"""

from collections.abc import Callable, Iterable
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from functools import cache
from pathlib import Path
from random import Random

from game.assignments.assignment import AssignedTune
from game.clock import HandClock
from game.coach.decisions import Offer
from game.coach.stages import Pulse, Stage
from game.demo.learner import Learner, answers, on_day, practised
from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.swing import STRAIGHT
from game.music.accidentals import AlteredBy
from game.music.keys import Key
from game.music.pitch import SEMITONES_OF_STEP, STEPS
from game.neck.tuning import Place
from game.player.assigned_music import tune_request
from game.player.profiles import Profile
from game.player.session import open_session
from game.player.settings import Settings
from game.practice.free_take import FreeTake
from game.practice.places_take import PlacesTake
from game.practice.timed_take import TimedTake, TimedTerms
from game.practice_log.database.identity import Identity, write_identity
from game.practice_log.rows.log_records import Terms
from game.practice_log.transfer.export import EVERYTHING, write_export
from game.screens.reading.timed_terms import timed_terms
from game.tunes.library.library import shipped_entries

TARGET_BPM = 88
_LOWEST_OF_STAFF, _HIGHEST_OF_STAFF = 30, 38  # E4 to F5 as written, counted in steps from C0
_HABIT = 0.95  # so often a habit shows
_COUNT_IN_S = 4.0
_PAUSE_S = 5.0
_SPREAD_AT_SIGHT_MS = 90.0
_LEARNER = Learner(
    steady_bpm=66, ceiling_bpm=130, learning=0.09, fatigue=0.005, bias_ms=-12, spread_ms=15, find_s=0.7, lapse=0.004
)

Part = tuple[str, int, int]
"""The title of a tune, and the first and the last bar."""

Wrong = Callable[[ExpectedNote, Key, Random], int | None]
"""What a habit makes of a note in a key, as a sounding pitch; None where it plays it as it is written."""


def forgets_the_signature(asked, _, rng):
    """A note that the key signature alters, played as if it did not."""
    if asked.note.shown.altered_by is not AlteredBy.SIGNATURE or rng.random() >= _HABIT:
        return None
    return asked.sounding - asked.note.pitch.alter


def miscounts_ledger_lines(asked, key, rng):
    """A note beyond the staff, read a line or space nearer to it."""
    step = asked.note.pitch.staff_step
    if _LOWEST_OF_STAFF - 1 <= step <= _HIGHEST_OF_STAFF + 1 or rng.random() >= _HABIT:
        return None
    return _read_as(asked, key, step + (1 if step < _LOWEST_OF_STAFF else -1))


def takes_a_line_for_its_neighbour(asked, key, rng):
    """G, A and C within the staff, read a step too high."""
    step = asked.note.pitch.staff_step
    if step % 7 not in (4, 5, 0) or not _LOWEST_OF_STAFF <= step <= _HIGHEST_OF_STAFF or rng.random() >= _HABIT:
        return None
    return _read_as(asked, key, step + 1)


def _read_as(asked, key, staff_step):
    """What sounds where another line or space is read, in its key."""
    letter = STEPS[staff_step % 7]
    written = 12 * (staff_step // 7 + 1) + SEMITONES_OF_STEP[letter] + key.alter_of(letter)
    return asked.sounding + written - asked.note.pitch.midi


class SimulatedStudent:
    """One person at one computer of theirs. `wrong` is a habit of reading, `slips` the chance that the hand lies a fret
    off for a while, `late_ms` by how much everything comes late above `late_above_bpm`.
    """

    def __init__(
        self,
        folder: Path,
        player: Identity,
        *,
        seed: str,
        zone_minutes: int = 60,
        wrong: Wrong | None = None,
        slips: float = 0.0,
        late_ms: float = 0.0,
        late_above_bpm: float = 0.0,
        learner: Learner = _LEARNER,
        strings: bool = True,
        clock_wrong: timedelta = timedelta(),
    ) -> None:
        self.folder, self.player, self.rng = folder, player, Random(seed)
        self.zone_minutes, self.zone, self.clock_wrong = (
            zone_minutes,
            timezone(timedelta(minutes=zone_minutes)),
            clock_wrong,
        )
        self.wrong, self.slips, self.late_ms, self.late_above_bpm = wrong, slips, late_ms, late_above_bpm
        self.learner, self.learners, self.strings = learner, {}, strings
        folder.mkdir(parents=True, exist_ok=True)
        write_identity(folder / "player.json", player)

    @contextmanager
    def sitting(self, moment: datetime):
        """The game is open from that moment on."""
        clock = self.clock = HandClock()
        begin_s = clock.now_s()
        local = (moment + self.clock_wrong).astimezone(self.zone)
        session = open_session(
            Profile(name=self.player.name, folder=self.folder, settings_path=self.folder / "settings.json"),
            clock,
            now=lambda: local + timedelta(seconds=clock.now_s() - begin_s),
            settings=Settings(target_bpm=TARGET_BPM),
        )
        session.begin_practice()
        try:
            yield session
        finally:
            session.close()

    def practise(
        self, moment: datetime, parts: Iterable[Part], *, takes: int = 3, assignments: Iterable[str] = ()
    ) -> None:
        """An evening: assignments are opened, then so many takes of each part, as the coach decides."""
        with self.sitting(moment) as session:
            for text in assignments:
                session.assignments.open(text)
            for part in parts:
                self.work_at(session, part, takes)

    def read_at_sight(self, moment: datetime, part: Part, *, tempo_bpm: int | None) -> None:
        """Bars met for the first time are read once through, against the click or without."""
        with self.sitting(moment) as session:
            request = self._request(session, part).in_stage(Stage.SIGHT)
            if tempo_bpm is not None:
                request = replace(request, pulse=Pulse.METRONOME, tempo_bpm=tempo_bpm)
            # Nobody is as steady in what they never saw.
            self.learners[part] = replace(self.learner, spread_ms=_SPREAD_AT_SIGHT_MS)
            self.take(session, request, part)

    def know_by_ear(self, moment: datetime, part: Part) -> None:
        """They say that they know the tune."""
        with self.sitting(moment) as session:
            session.log.facts.set_known_by_ear(self._request(session, part).passage, known=True)

    def listen(self, moment: datetime, part: Part) -> None:
        """They let the bars be played to them."""
        with self.sitting(moment) as session:
            session.log.facts.mark_heard(self._request(session, part).passage)

    def work_at(self, session, part: Part, takes: int) -> None:
        """So many takes of some bars, or fewer where the coach asks for other music."""
        request = self._request(session, part)
        self.learners[part] = on_day(self.learners.get(part, self.learner), session.today().toordinal())
        decision = session.coach.open_passage(request.passage)
        for _ in range(takes):
            decision = self.take(session, request.as_decided(decision), part)
            if decision.offer is not Offer.AGAIN:
                return

    def _request(self, session, part: Part):
        title, *bars = part
        return tune_request(entry_of(title), AssignedTune(title=title, bars=tuple(bars)), session.settings.neck_map())

    def take(self, session, request, name):
        """One take, played to its end."""
        passage, neck_map, clock = request.passage, request.neck_map, self.clock
        given = answers(self.learners[name], len(passage.notes), request.tempo_bpm, self.rng)
        if request.stage is Stage.PLACES:
            recorder = session.recorder(passage, neck_map, Terms(stage=Stage.PLACES), zero_s=clock.now_s())
            take = PlacesTake(passage, neck_map, now_s=clock.now_s(), recorder=recorder)
            self._find(take, given)
            finished = take.end()
        elif request.tempo_bpm is None:
            recorder = session.recorder(passage, neck_map, timed_terms(request), zero_s=clock.now_s())
            take = FreeTake(passage, neck_map, request.stage, recorder=recorder)
            self._play(take, given, clock.now_s() + 0.9, 0.9, None)
            finished = take.end()
        else:
            recorder = session.recorder(passage, neck_map, timed_terms(request), zero_s=0.0)
            terms = TimedTerms(
                stage=request.stage, tempo_bpm=request.tempo_bpm, swing=STRAIGHT, settling=request.settling
            )
            take = TimedTake(passage, neck_map, terms, recorder=recorder)
            clock.advance(_COUNT_IN_S)
            take.start(clock.now_s())
            self._play(take, given, clock.now_s(), take.quarter_s, request.tempo_bpm)
            clock.advance(4.0)
            finished = take.end(clock.now_s())
        self.learners[name] = practised(self.learners[name])
        decision = session.finish_take(finished, recorder, target_bpm=request.target_bpm)
        clock.advance(_PAUSE_S)
        return decision

    def _find(self, take, given) -> None:
        off = self._stretches(len(take.expected))
        for index, answer in enumerate(given):
            asked = take.asked
            self.clock.advance(answer.find_s or 0.5)
            wrong = self._wrong(asked, _key_at(take.passage, asked), off[index], right=answer.right)
            if wrong is not None:
                take.hear(self._note(self.clock.now_s(), *wrong))
                self.clock.advance(0.6)
            take.hear(self._note(self.clock.now_s(), asked.sounding, self._home(asked)))

    def _play(self, take, given, start_s: float, quarter_s: float, bpm: float | None) -> None:
        off = self._stretches(len(take.expected))
        late_s = self.late_ms / 1000 if bpm is not None and bpm > self.late_above_bpm else 0.0
        for index, (asked, answer) in enumerate(zip(take.expected, given, strict=True)):
            off_s = self.rng.gauss(0, 0.02) if answer.offset_ms is None else answer.offset_ms / 1000
            due_s = start_s + float(asked.note.onset) * quarter_s + off_s + late_s
            self.clock.advance(max(0.0, due_s - self.clock.now_s()))
            sounding, place = self._wrong(asked, _key_at(take.passage, asked), off[index], right=answer.right) or (
                asked.sounding,
                self._home(asked),
            )
            take.hear(self._note(due_s, sounding, place))

    def _wrong(self, asked, key: Key, off: bool, *, right: bool):
        """What is played instead: by the habit, by a hand that lies off, or by chance; None where it is right."""
        if self.wrong is not None and (sounding := self.wrong(asked, key, self.rng)) is not None:
            return sounding, self._anywhere(sounding)
        if off:
            place = asked.home.place
            return asked.sounding + 1, Place(place.string, place.fret + 1)
        if not right:
            sounding = asked.sounding + self.rng.choice((-2, -1, 1, 2))
            return sounding, self._anywhere(sounding)
        return None

    def _stretches(self, count: int) -> list[bool]:
        off = [False] * count
        if self.rng.random() < self.slips:
            start = self.rng.randrange(max(1, count // 2))
            for index in range(start, min(count, start + self.rng.randint(4, 7))):
                off[index] = True
        return off

    def _note(self, at_s: float, sounding: int, place: Place | None) -> PlayedNote:
        if not self.strings:
            return PlayedNote(started_s=at_s, sounding=sounding, place=None, source="keyboard")
        return PlayedNote(started_s=at_s, sounding=sounding, place=place, source="pickup")

    def _home(self, asked):
        return asked.home.place if asked.home else None

    def _anywhere(self, sounding: int) -> Place | None:
        home = Settings().neck_map().home_of(sounding)
        return home.place if home else None

    def export(self, out: Path, moment: datetime, what=EVERYTHING) -> Path:
        """What the player hands in of this computer."""
        out.parent.mkdir(parents=True, exist_ok=True)
        with self.sitting(moment) as session, session.log.reading() as connection:
            write_export(connection, session.log.player, out, now=session.now(), what=what)
        return out


def _key_at(passage, asked) -> Key:
    return passage.bars[asked.note.heads[0].bar].key


@cache
def entry_of(title):
    """A tune we ship."""
    return next(entry for entry in shipped_entries() if entry.title == title)
