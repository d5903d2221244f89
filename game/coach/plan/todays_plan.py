"""Today's plan, from the minutes the player has.

In this order: a minute of warm-up on due and slow notes, pitch only; music at first sight, while fresh; one short block
on notes, slow ones and the few that are new; blocks on passages, what was practised last first; a new tune, pitch only,
once the last one is found; a sign-off that is due or something signed off, played whole; last, once the map is fluent,
a line in free reading; a rest after every stretch. Notes by themselves come once, and with the warm-up fill no more
than a third of a day: the rest is music. What there is no music for is left out, and so is the least useful on a short
day. `plan_progress` follows the player
through it.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import cycle

from game.coach.notes.items import map_name
from game.coach.notes.slow_notes import SlowHome, slow_notes
from game.coach.notes.weights import pitch_classes, slow_pitches
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan import plan_reasons as reasons
from game.coach.plan.mixed_maps import map_to_look_at, on_maps_in_turn, situation_on
from game.coach.plan.plan_choices import (
    is_sign_off_due,
    new_tune,
    passages_under_way,
    signed_off_passage,
    tune_at_sight,
)
from game.coach.plan.plan_lines import key_in_turn, melody_key, new_pitches, slow_notes_line, warm_up_line
from game.coach.plan.plan_minutes import blocks
from game.coach.plan.plan_steps import (
    FirstTune,
    PassageStanding,
    PlannedLine,
    PlanStep,
    Situation,
    StepKind,
    UnseenTune,
)
from game.coach.stages import Stage
from game.message import Message
from game.music.keys import Key, spelled
from game.neck.neck_map import NeckMap

_REST = PlanStep(kind=StepKind.REST, minutes=0, reason=(reasons.REST,))


def plan_for(situation: Situation, numbers: CoachNumbers = NUMBERS) -> tuple[PlanStep, ...]:
    """The steps of today, in order. The same situation always gives the same plan."""
    if situation.first_day and situation.first_tune is not None:
        return tuple(_first_day(situation, situation.first_tune, numbers))
    over = slow_pitches(situation.items, situation.neck_map, numbers)
    slow = slow_notes(situation.items, situation.neck_map, numbers)
    offered = {step.kind: step for step in _offers(situation, numbers)}
    row = blocks(situation.minutes, offered.keys(), situation.done, numbers, slow=len(slow))
    steps = on_maps_in_turn(
        (replace(offered.get(kind, _REST), minutes=minutes) for kind, minutes in row), situation, numbers
    )
    return tuple(_passages_in_turn(list(_in_turn(steps, over, situation, numbers)), situation, numbers))


def _offers(situation: Situation, numbers: CoachNumbers) -> list[PlanStep]:
    """A step, its minutes still open, for each kind there is music for; what was skipped today is not offered again."""
    slow = slow_notes(situation.items, situation.neck_map, numbers)
    at_sight = tune_at_sight(situation)
    steps = [_warm_up(situation, slow, numbers)]
    if situation.met >= numbers.sight_after_met and StepKind.FIRST_SIGHT not in situation.ended:
        steps += _at_sight(situation, at_sight, numbers)
    if StepKind.SLOW_NOTES not in situation.ended:
        steps.append(_slow_block(situation, slow))
    under_way = passages_under_way(situation, numbers)
    steps += [_passage_step(passage) for passage in under_way[:1]]
    steps += _new_music(situation, at_sight, numbers)
    steps += _to_end_with(under_way, situation)
    if situation.fluent and situation.tells_places and StepKind.FREE_READING not in situation.ended:
        line = PlannedLine(level=situation.level)
        steps.append(_step(StepKind.FREE_READING, reasons.FREE_READING, stage=Stage.TIME, line=line))
    return [step for step in steps if (step.kind, step.passage or step.tune) not in situation.skipped]


def _at_sight(situation: Situation, at_sight: UnseenTune | None, numbers: CoachNumbers) -> Iterator[PlanStep]:
    """A tune, or a line; for somebody who begins a line of notes that were met, and none while it has no room."""
    if at_sight is not None:
        said = reasons.tune_at_sight(at_sight.title)
        yield _step(StepKind.FIRST_SIGHT, said, stage=Stage.SIGHT, tune=at_sight.name)
        return
    line, known = PlannedLine(level=situation.level), situation.known
    if known is not None:
        room = melody_key(situation, situation.level, numbers=numbers)
        if room is None:
            return
        level, key = room
        weights = {pitch: float(pitch in known) for pitch in situation.neck_map.places}
        line = PlannedLine(level=level, key=key, weights=weights)
    yield _step(StepKind.FIRST_SIGHT, reasons.LINE_AT_SIGHT, stage=Stage.SIGHT, line=line)


def _new_music(situation: Situation, at_sight: UnseenTune | None, numbers: CoachNumbers) -> Iterator[PlanStep]:
    """The bars of a course, which is all that is new while it lasts; else a new tune."""
    course = situation.course
    if course is not None:
        said = reasons.course(course.title)
        yield _step(StepKind.COURSE, said, stage=course.stage, passage=course.passage)
        return
    new = new_tune(situation, at_sight, numbers)
    if new is not None:
        yield _step(StepKind.NEW_TUNE, reasons.new_tune(new.title, new.kind), stage=Stage.PLACES, tune=new.name)


def _first_day(situation: Situation, first: FirstTune, numbers: CoachNumbers) -> Iterator[PlanStep]:
    """Five notes, the tune that is made of them, and what it sounds like; each that was not done or skipped yet, with
    what it still lacks of its share of the day.
    """
    line = PlannedLine(
        level=1, key=Key(), weights=dict.fromkeys((sounding for _, sounding in first.notes), 1.0), single_notes=True
    )
    five = tuple(written for written, _ in first.notes)
    steps = (
        replace(_step(StepKind.FIVE_NOTES, reasons.FIVE_NOTES, stage=Stage.PLACES, line=line), five_notes=five),
        _step(StepKind.NEW_TUNE, reasons.new_tune(first.title), stage=Stage.PLACES, tune=first.name),
        _step(StepKind.HEARD_WHOLE, reasons.HEARD_WHOLE, stage=Stage.TIME, tune=first.name),
    )
    left = [
        step
        for step in steps
        if step.kind not in situation.ended and (step.kind, step.passage or step.tune) not in situation.skipped
    ]
    shares, done = numbers.first_day_shares[: len(steps)], situation.done
    day, whole = situation.minutes + sum(done.values()), sum(shares) or 1
    lacking = {
        step.kind: max(day * share / whole - done.get(step.kind, 0.0), 0.0)
        for step, share in zip(steps, shares, strict=True)
        if step in left
    }
    scale = min(situation.minutes / (sum(lacking.values()) or 1), 1.0)
    for step in left:
        yield replace(step, minutes=max(round(lacking[step.kind] * scale), 1))


def _passage_step(passage: PassageStanding) -> PlanStep:
    return _step(StepKind.PASSAGE, reasons.passage(passage), stage=passage.stage, passage=passage.name)


def _to_end_with(under_way: Sequence[PassageStanding], situation: Situation) -> Iterator[PlanStep]:
    """The other half of a sign-off; else what is due, by itself, so that it is known again; else a tune to enjoy."""
    half = next((one for one in under_way[1:] if is_sign_off_due(one, situation.day)), None)
    last = half or signed_off_passage(situation)
    if last is None:
        return
    is_due = last.name in situation.due_passages
    said = reasons.passage(last) if half else reasons.signed_off(last, is_due=is_due)
    step = _step(StepKind.SIGNED_OFF, said, stage=Stage.TIME, passage=last.name)
    yield replace(step, whole=not half and not is_due)


def _passages_in_turn(steps: Sequence[PlanStep], situation: Situation, numbers: CoachNumbers) -> Iterator[PlanStep]:
    """The steps, each block on a passage with the next of those under way; what the day ends with is not among them. On
    a day too short for that, what one more clean take signs off comes first: it is the first take of the day or none.
    """
    last = {step.passage for step in steps if step.kind is StepKind.SIGNED_OFF}
    under_way = [passage for passage in passages_under_way(situation, numbers) if passage.name not in last]
    if not last:
        under_way.sort(key=lambda passage: not is_sign_off_due(passage, situation.day))
    turns = cycle(under_way)
    for step in steps:
        if step.kind is StepKind.PASSAGE:
            yield replace(_passage_step(next(turns)), minutes=step.minutes)
        else:
            yield step


def _step(
    kind: StepKind,
    reason: Message,
    *,
    stage: Stage,
    line: PlannedLine | None = None,
    passage: str | None = None,
    tune: str | None = None,
) -> PlanStep:
    return PlanStep(kind=kind, minutes=0, reason=(reason,), stage=stage, line=line, passage=passage, tune=tune)


def _warm_up(situation: Situation, slow: Sequence[SlowHome], numbers: CoachNumbers) -> PlanStep:
    """A few notes: those that are due, then the slow ones; once in a while those that are due on another map that is
    fluent, so that it stays so.
    """
    other = map_to_look_at(situation, numbers)
    if other is not None:
        there = situation_on(situation, other)
        step = _warm_up_on(there, slow_notes(there.items, there.neck_map, numbers), numbers)
        return replace(step, maps=(other,))
    return _warm_up_on(situation, slow, numbers)


def _warm_up_on(situation: Situation, slow: Sequence[SlowHome], numbers: CoachNumbers) -> PlanStep:
    on_map = map_name(situation.neck_map)
    places = situation.neck_map.places
    due = [k for k in situation.due_notes if k.map_name == on_map and places.get(k.sounding) == k.place]
    names = [note.key for note in slow]
    notes = tuple(dict.fromkeys([*due, *names]))[: numbers.slow_notes]
    alike = dict.fromkeys(situation.neck_map.places, 1.0)
    line = PlannedLine(level=situation.level, weights=alike, notes=notes)
    said = reasons.warm_up(due[: numbers.slow_notes], names, situation.names)
    return _step(StepKind.WARM_UP, said, stage=Stage.PLACES, line=line)


def _slow_block(situation: Situation, slow: Sequence[SlowHome]) -> PlanStep:
    line = PlannedLine(level=situation.level, notes=tuple(note.key for note in slow))
    longest_first = sorted(slow, key=lambda note: -note.find_s)
    said = reasons.slow_notes([(note.key, note.find_s) for note in longest_first], situation.names)
    return _step(StepKind.SLOW_NOTES, said, stage=Stage.PLACES, line=line)


def _in_turn(
    steps: Iterable[PlanStep], over: Mapping[int, float], situation: Situation, numbers: CoachNumbers
) -> Iterator[PlanStep]:
    """The steps, those for certain notes with their keys: each in the next one, each day begins with another. The block
    on notes is in a key of the new ones, where there are such: in no other would they come.
    """
    turn = situation.day
    for step in steps:
        if step.kind is StepKind.FREE_READING:
            yield step
            continue
        if step.line is None or step.kind is StepKind.FIRST_SIGHT:
            yield _at_sight_in_turn(step, situation, numbers)
            continue
        there = situation_on(situation, step.maps[0]) if step.maps else situation
        if there is not situation:
            over = slow_pitches(there.items, there.neck_map, numbers)
        new = new_pitches(there, numbers)
        marked = dict.fromkeys((note.sounding for note in step.line.notes), 1.0)
        sought = (marked or new) if step.kind is StepKind.WARM_UP else new or over
        key = key_in_turn(turn, sought, there, numbers)
        turn += 1
        line = replace(step.line, key=key)
        if step.kind is StepKind.WARM_UP:
            line = warm_up_line(line, sought, there, numbers)
        else:
            line = replace(slow_notes_line(line, there, numbers), new=_written(new, key, there.neck_map))
        yield replace(step, line=line)


def _at_sight_in_turn(step: PlanStep, situation: Situation, numbers: CoachNumbers) -> PlanStep:
    """A line at sight that is read on another map than the player's own is made for that."""
    if step.line is None or not step.maps or step.maps[0].neck_map == situation.neck_map:
        return step
    there = replace(situation_on(situation, step.maps[0]), unseen=())
    anew = next(_at_sight(there, None, numbers), None)
    return step if anew is None else replace(step, line=anew.line)


def _written(new: Iterable[int], key: Key, neck_map: NeckMap) -> tuple[str, ...]:
    """The new notes that come in a key, as its page writes them."""
    up, inside = 12 * neck_map.reading.octaves_down, pitch_classes(key)
    return tuple(spelled(sounding + up, key).name for sounding in new if sounding % 12 in inside)
