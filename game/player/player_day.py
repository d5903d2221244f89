"""Today as it lies on the desk of a player: put together from plan, coach, notes and log, between takes only."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from game.coach.coach import advance
from game.coach.events import PassageOpened
from game.coach.marks import Mark
from game.coach.notes.items import ItemKey
from game.coach.notes.slow_notes import SlowHome
from game.coach.numbers import NUMBERS
from game.coach.plan.day_facts import AimAnswer, DayFacts, DayRow, DayRowState, FluentNote, LastTime, UnseenLine
from game.coach.plan.last_time import last_time_told
from game.coach.plan.next_map import fluent_told
from game.coach.plan.plan_progress import PlanProgress
from game.coach.plan.plan_steps import PassageStanding, PlanStep, Situation, StepKind
from game.coach.plan.row_words import RowFacts, row_quiet, row_quiet_shorter, row_title
from game.coach.plan.sitting_aim import SittingAim, SittingSoFar, aim_of_sitting, aim_said, answer_said, is_reached
from game.coach.records import CoachState
from game.coach.stages import Pulse
from game.coach.tempo_ladder import rungs_to_signing
from game.message import Message, message, verbatim
from game.music.tune_kind import TuneKind
from game.player.player_plan import PlayerPlan
from game.tunes.library.library import shelf

_HOW_IT_GOES = (message("today.how_ink_comes"), message("today.how_tempo_comes"))


class PlayerDay:
    """Today's facts. `plan` knows everything they are made of."""

    def __init__(self, plan: PlayerPlan) -> None:
        self._plan = plan
        self._made: tuple[PlanProgress, CoachState, Situation, dict[int, RowFacts]] | None = None
        self._met_before: int | None = None

    def facts(self) -> DayFacts:
        """Today as it stands. What is slow about it is made once after each take; the seconds left are of now."""
        plan = self._plan
        progress = plan.progress
        situation, facts = self._facts(progress)
        rows = tuple(self._row(at, progress, facts.get(at, RowFacts()), situation) for at in range(len(progress.steps)))
        first = situation.first_day
        return DayFacts(
            day=plan.day,
            first_day=first,
            minutes=plan.minutes,
            rows=rows,
            aim=self._aim_told(),
            last_time=None if first else self._last_time(progress, situation),
            how_it_goes=_HOW_IT_GOES if first else (),
            unseen=_unseen_line(rows, situation, turned=StepKind.FIRST_SIGHT in plan.done_today.ended),
            fluent=self._fluent(),
        )

    def _fluent(self) -> FluentNote | None:
        """That the map is fluent, kept when it is said first; not before all of the log is known."""
        maps = self._plan.known.maps
        if not self._plan.complete or not maps.is_next_proposed:
            return None
        maps.say_fluent()
        return FluentNote(map_name=maps.own.name, reason=fluent_told(maps.fluency, maps.own.name))

    @property
    def aim(self) -> SittingAim | None:
        """The aim of the day, as it was said first, on whichever computer; said now, where it was not yet and there is
        something ahead.
        """
        plan, desk = self._plan, self._plan.facts.desk
        day = date.fromordinal(plan.day)
        if desk.aim_on(day) is None:
            progress = plan.progress
            ahead = progress.steps[progress.at :]
            if not ahead:
                return None
            aim = aim_of_sitting(ahead, plan.known.coach_state, day=plan.day, notes_of=self._notes_of)
            plan.facts.aim_at(day, aim)
            self._met_before = 0 if plan.first_day else plan.known.met
        return desk.aim_on(day)

    def _aim_told(self) -> Message | None:
        aim = self.aim
        return None if aim is None else aim_said(aim, self._title_of(aim))

    def _notes_of(self, passage: str) -> int:
        place = self._plan.find_passage(passage)
        return len(place.soundings) if place is not None else 1

    def _title_of(self, aim: SittingAim) -> Message | None:
        place = None if aim.passage is None else self._plan.find_passage(aim.passage)
        return None if aim.passage is None else verbatim("") if place is None else place.title

    def titles_of(self, passages: Iterable[str]) -> tuple[Message, ...]:
        """What passages are called; those that stand on no shelf any more are left out."""
        places = (self._plan.find_passage(passage) for passage in passages)
        return tuple(place.title for place in places if place is not None)

    def aim_answer(self) -> AimAnswer | None:
        """What became of the aim of the day; None where it had none."""
        plan, aim = self._plan, self.aim
        if aim is None:
            return None
        before = self._met_before if self._met_before is not None else 0 if plan.first_day else plan.known.met
        so_far = SittingSoFar(
            day=plan.day,
            notes_met=max(plan.known.met - before, 0),
            lines_read=int(StepKind.FIRST_SIGHT in plan.done_today.ended),
        )
        said = answer_said(aim, plan.known.coach_state, so_far, self._title_of(aim))
        return AimAnswer(reached=is_reached(aim, plan.known.coach_state, so_far), said=said)

    @property
    def day(self) -> int:
        """The day of the plan."""
        return self._plan.day

    def ink_today(self) -> tuple[str, ...]:
        """The written notes that became ink today, from the lowest on."""
        return self._plan.known.new_ink(self._plan.day)

    def situation_tomorrow(self) -> Situation:
        """What tomorrow's plan will be made from, as things stand now."""
        return self._plan.situation_tomorrow()

    def facts_of(self, step: PlanStep, situation: Situation) -> RowFacts:
        """What is known of the music of a step that is planned from a situation."""
        return self._facts_of(step, situation, {note.key: note for note in self._plan.known.slow_notes()})

    def _facts(self, progress: PlanProgress) -> tuple[Situation, dict[int, RowFacts]]:
        state = self._plan.known.coach_state
        if self._made is None or self._made[0] is not progress or self._made[1] is not state:
            situation = self._plan.situation()
            slow = {note.key: note for note in self._plan.known.slow_notes()}
            facts = {at: self._facts_of(step, situation, slow) for at, step in enumerate(progress.steps)}
            self._made = progress, state, situation, facts
        return self._made[2], self._made[3]

    def _facts_of(self, step: PlanStep, situation: Situation, slow: dict[ItemKey, SlowHome]) -> RowFacts:
        facts = self._of_step(step, situation, slow)
        return replace(facts, clef=situation.neck_map.reading.clef)

    def _of_step(self, step: PlanStep, situation: Situation, slow: dict[ItemKey, SlowHome]) -> RowFacts:
        if step.kind is StepKind.FIVE_NOTES:
            first = situation.first_tune
            return RowFacts(first_notes=tuple(written for written, _ in first.notes) if first else ())
        if step.line is not None:
            marked = [key for key in step.line.notes if key in slow]
            # As it was when the plan was made: what was read since is due no more.
            due = any(said.key.startswith("plan.warm_up_due") for said in step.reason)
            unsure = bool(marked) and all(slow[key].unsure for key in marked)
            return RowFacts(due=due, unsure=unsure)
        if step.passage is not None:
            return self._of_passage(step.passage, situation, whole=step.whole)
        return self._of_tune(step, situation)

    def _of_passage(self, name: str, situation: Situation, *, whole: bool) -> RowFacts:
        place, state = self._plan.find_passage(name), self._plan.known.coach_state
        standing = next((one for one in situation.passages if one.name == name), None)
        record = state.records.get(name)
        title = None if place is None else verbatim(place.entry.title) if whole else place.title
        now, rungs = (None, ()) if standing is None or place is None else self._rungs(standing, len(place.soundings))
        return RowFacts(
            title=title,
            standing=standing,
            pulse=Pulse.FREE if record is None else record.pulse,
            rungs=rungs,
            now_bpm=now,
            due=name in situation.due_passages,
        )

    def _rungs(self, standing: PassageStanding, notes: int) -> tuple[int | None, tuple[int, ...]]:
        """The tempo at which the coach would open the passage now, and those still to be kept."""
        state = self._plan.known.coach_state
        record = state.records.get(standing.name)
        if record is None or not record.climbing or Mark.SIGNED_OFF in record.marks:
            return None, ()
        after, decision = advance(state, PassageOpened(passage=record.facts, day=self._plan.day))
        return decision.tempo_bpm, rungs_to_signing(after, decision, notes=notes)

    def _of_tune(self, step: PlanStep, situation: Situation) -> RowFacts:
        entry = next((entry for entry in shelf() if entry.name == step.tune), None)
        if entry is None:
            return RowFacts()
        if step.kind is not StepKind.NEW_TUNE:
            return RowFacts(title=verbatim(entry.title))
        if situation.first_day:
            return RowFacts(title=verbatim(entry.title), first=True)
        passages = self._plan.passages.of(entry)
        title = passages[0][1].title if passages else verbatim(entry.title)
        return RowFacts(title=title, own=not entry.shipped, lead_sheet=entry.kind is TuneKind.LEAD_SHEET)

    def _row(self, at: int, progress: PlanProgress, facts: RowFacts, situation: Situation) -> DayRow:
        standing = self._plan.step if at == progress.at else None
        step = progress.steps[at] if standing is None else standing
        state = DayRowState.AHEAD
        if at < progress.at:
            state = DayRowState.SKIPPED if progress.practised[at] is None else DayRowState.DONE
        elif standing is not None:
            state = DayRowState.NOW
        minutes = step.minutes
        if state is DayRowState.DONE:
            minutes = round(progress.practised[at] or 0.0)
        return DayRow(
            at=at,
            kind=step.kind,
            title=row_title(step, facts),
            quiet=row_quiet(step, facts, situation.names),
            shorter=row_quiet_shorter(step),
            minutes=minutes,
            state=state,
            left_s=self._plan.left_s if state is DayRowState.NOW else None,
        )

    def _last_time(self, progress: PlanProgress, situation: Situation) -> LastTime | None:
        sitting = self._plan.known.last_sitting()
        if sitting is None:
            return None
        warm = next((step for step in progress.steps if step.kind is StepKind.WARM_UP and step.line), None)
        slow = [note for note in self._plan.known.slow_notes() if warm and warm.line and note.key in warm.line.notes]
        return last_time_told(
            sitting,
            self._plan.day,
            self._plan.known.ink().counts,
            max(slow, key=lambda note: note.find_s, default=None),
            situation.names,
        )


def _unseen_line(rows: tuple[DayRow, ...], situation: Situation, *, turned: bool) -> UnseenLine:
    """The folder; `turned` tells whether the line of today was read."""
    to_meet = NUMBERS.sight_after_met - situation.met
    planned = any(
        row.kind is StepKind.FIRST_SIGHT and row.state in (DayRowState.NOW, DayRowState.AHEAD) for row in rows
    )
    if to_meet > 0:
        said = message("today.how_unseen_comes", notes=NUMBERS.sight_after_met)
        return UnseenLine(ready=False, planned=False, said=said)
    said = message("day.unseen.more" if turned else "today.unseen_below")
    return UnseenLine(ready=True, planned=planned, said=said)
