"""Which music today: what was begun goes on, the tunes never met, and the one to end with."""

from game.coach.marks import Mark
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan.kinds_in_turn import (
    comes_meanwhile,
    is_its_turn_at_sight,
    kept_from_sight,
    most_difficulty,
    turn_of,
)
from game.coach.plan.plan_steps import PassageStanding, Situation, StepKind, UnseenTune


def passages_under_way(situation: Situation, numbers: CoachNumbers = NUMBERS) -> tuple[PassageStanding, ...]:
    """What to go on with, in this order: the passage practised last, those that lack but the other half of a sign-off,
    the rest of what was begun, the latest first, and the next bars of the tune that is not found yet.

    Left out is what is signed off or too short for it, played out for today, skipped today, or was clean at its target
    today already.
    """
    begun = [
        passage
        for passage in latest_first(situation)
        if _goes_on_today(passage, situation.day, numbers) and (StepKind.PASSAGE, passage.name) not in situation.skipped
    ]
    waiting = [passage for passage in begun[1:] if is_sign_off_due(passage, situation.day)]
    waiting.sort(key=lambda passage: passage.half_day or 0)
    rest = [passage for passage in begun[1:] if passage not in waiting]
    ahead = [
        passage
        for passage in unfound(situation, numbers)
        if passage.last_day is None and (StepKind.PASSAGE, passage.name) not in situation.skipped
    ]
    return (*begun[:1], *waiting, *rest, *ahead)


def latest_first(situation: Situation) -> list[PassageStanding]:
    """The passages that were practised, the last one first; of a day's, the one that came last. But what was only found
    on another day is gone on with from its beginning: nobody learns a tune from its end.
    """
    practised = [passage for passage in reversed(situation.passages) if passage.last_day is not None]
    latest = sorted(practised, key=lambda passage: -(passage.last_day or 0))
    only_found = {
        (passage.tune, passage.last_day): sorted(
            (one for one in latest if _is_only_found(one, passage, situation.day)), key=lambda one: one.place
        )
        for passage in latest
    }
    return [
        only_found[passage.tune, passage.last_day].pop(0)
        if _is_only_found(passage, passage, situation.day)
        else passage
        for passage in latest
    ]


def _is_only_found(passage: PassageStanding, beside: PassageStanding, day: int) -> bool:
    """Whether it was found, and no more, on the same day as another passage of its tune, before today."""
    same = (passage.tune, passage.last_day) == (beside.tune, beside.last_day)
    return same and passage.tempo_bpm is None and (passage.last_day or 0) < day


def is_sign_off_due(passage: PassageStanding, day: int) -> bool:
    """Whether it was clean at its target on an earlier day, and once more signs it off: as the first take of a day."""
    half = passage.half_day is not None and passage.half_day < day
    return half and Mark.SIGNED_OFF not in passage.marks and not passage.takes_today


def unfound(situation: Situation, numbers: CoachNumbers = NUMBERS) -> tuple[PassageStanding, ...]:
    """The passages not found yet of the tune practised last that has such; none where every tune is found, or was left
    aside while others were played for weeks. Days on which nobody played do not count. Bars whose rhythm had its turn
    keep nothing back, even if their notes are not all found: with one tune for weeks nobody learns to read.
    """
    order = latest_first(situation)
    newest = order[0].last_day or 0 if order else 0
    for tune in dict.fromkeys(passage.tune for passage in order):
        left = tuple(passage for passage in situation.passages if passage.tune == tune and _is_unfound(passage))
        last = max(passage.last_day or 0 for passage in order if passage.tune == tune)
        if left and newest - last <= numbers.passage_stale_days:
            return left
    return ()


def _is_unfound(passage: PassageStanding) -> bool:
    return not passage.marks and not passage.rhythm_kept


def tune_at_sight(situation: Situation) -> UnseenTune | None:
    """A tune of the book to be met at first sight; None on the days of a fresh line, every other day, and while there
    is none the player can hope to get through. What the player brought is to be learned, and so are studies and the
    first lead sheets, and the first tune is to be begun with: none of them is spent at sight.
    """
    if situation.day % 2:
        return None
    kept = kept_from_sight(situation)
    within = [
        tune
        for tune in situation.unseen
        if tune.difficulty <= situation.level and tune.name not in kept and _may_be_sight(tune, situation)
    ]
    return max(
        within, key=lambda tune: (is_its_turn_at_sight(tune, situation), tune.difficulty, tune.name), default=None
    )


def new_tune(
    situation: Situation, taken: UnseenTune | None = None, numbers: CoachNumbers = NUMBERS
) -> UnseenTune | None:
    """A new tune for the places: one of the player's own before the book; of the book the first tune first, then one
    whose turn it is (`game.coach.plan.kinds_in_turn`), then one with no more pitches that were never met than are
    learned in a day, or as few more as can be, and of such the one whose pitches cost fewest stretches, nearest to the
    level, if need be a little over it.

    Not the one `taken` at sight; none of the book until the last tune is found, but for the first lead sheet, and none
    of the player's own until the last of those is.
    """
    waiting = {passage.tune for passage in unfound(situation, numbers)}
    others = [tune for tune in situation.unseen if tune != taken]
    own = [tune for tune in others if tune.own and tune.difficulty <= situation.level + numbers.own_over_level]
    if own and waiting.isdisjoint(situation.own_tunes):
        return min(own, key=lambda tune: (abs(tune.difficulty - situation.level), tune.name))
    first = situation.first_tune.name if situation.first_tune else None
    # Not with more than one song half begun: then there is enough on the desk.
    only_one = len({passage.tune for passage in situation.passages if _is_unfound(passage)}) == 1
    book = [
        tune
        for tune in others
        if not tune.own and (not waiting or (only_one and comes_meanwhile(tune, situation, numbers)))
    ]
    begins = situation.known is not None
    within = [
        tune for tune in book if tune.difficulty <= most_difficulty(tune, situation, numbers) or tune.name == first
    ]
    return min(
        within,
        key=lambda tune: (
            tune.name != first,
            turn_of(tune, situation, numbers),
            max(tune.unmet - numbers.new_a_day, 0) if begins else 0,
            tune.stretches,
            abs(tune.difficulty - situation.level),
            tune.name,
        ),
        default=None,
    )


def signed_off_passage(situation: Situation) -> PassageStanding | None:
    """Something to end with: what is due, the least remembered first, or what was not played for longest."""
    signed_off = [passage for passage in situation.passages if Mark.SIGNED_OFF in passage.marks]
    waiting = [passage for passage in signed_off if not passage.takes_today] or signed_off
    waiting = [passage for passage in waiting if (StepKind.SIGNED_OFF, passage.name) not in situation.skipped]
    order = {name: place for place, name in enumerate(situation.due_passages)}
    return min(
        waiting,
        key=lambda passage: (order.get(passage.name, len(order)), passage.last_day or 0, passage.name),
        default=None,
    )


def _may_be_sight(tune: UnseenTune, situation: Situation) -> bool:
    """Who begins reads at sight what is made of notes they met."""
    first, met = situation.first_tune, situation.known is None or not tune.unmet
    return met and not tune.own and (first is None or tune.name != first.name)


def _goes_on_today(passage: PassageStanding, day: int, numbers: CoachNumbers) -> bool:
    done = Mark.SIGNED_OFF in passage.marks or passage.half_day == day or _is_short_and_held(passage)
    return not done and passage.takes_today < numbers.takes_a_day


def _is_short_and_held(passage: PassageStanding) -> bool:
    """Whether it came as far as so few notes can: in time, and at its target."""
    at_target = passage.target_bpm is not None and (passage.tempo_bpm or 0) >= passage.target_bpm
    return passage.short and Mark.IN_TIME in passage.marks and at_target
