"""Which music today: the passage under way, the tunes never met, the one to end with."""

from game.coach.marks import Mark
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan.plan_steps import PassageStanding, Situation, UnseenTune


def passage_under_way(situation: Situation, numbers: CoachNumbers = NUMBERS) -> PassageStanding | None:
    """The passage to go on with: begun, not signed off, not played out for today; of those played lately the one that
    has come farthest, so that what was begun is finished.
    """
    open_ones = [
        passage
        for passage in situation.passages
        if Mark.SIGNED_OFF not in passage.marks and passage.takes_today < numbers.takes_a_day
    ]
    return max(open_ones, key=lambda passage: _promise(passage, situation.day, numbers), default=None)


def tune_at_sight(situation: Situation) -> UnseenTune | None:
    """A tune of the library to be met at first sight; None on the days of a fresh line, every other day, and while
    there is none the player can hope to get through.
    """
    if situation.day % 2:
        return None
    within = [tune for tune in situation.unseen if tune.difficulty <= situation.level]
    return max(within, key=lambda tune: (tune.difficulty, tune.name), default=None)


def new_tune(
    situation: Situation, taken: UnseenTune | None = None, numbers: CoachNumbers = NUMBERS
) -> UnseenTune | None:
    """A new tune for the places: nearest to the level, if need be a little over it. Not the one `taken` at sight."""
    within = [
        tune
        for tune in situation.unseen
        if tune != taken and tune.difficulty <= situation.level + numbers.tune_over_level
    ]
    return min(within, key=lambda tune: (abs(tune.difficulty - situation.level), tune.name), default=None)


def signed_off_passage(situation: Situation) -> PassageStanding | None:
    """Something to end with: what is due, the least remembered first, or what was not played for longest."""
    signed_off = [passage for passage in situation.passages if Mark.SIGNED_OFF in passage.marks]
    waiting = [passage for passage in signed_off if not passage.takes_today] or signed_off
    order = {name: place for place, name in enumerate(situation.due_passages)}
    return min(
        waiting,
        key=lambda passage: (order.get(passage.name, len(order)), passage.last_day, passage.name),
        default=None,
    )


def _promise(passage: PassageStanding, day: int, numbers: CoachNumbers) -> tuple[bool, int, float, int, str]:
    """How much a passage promises: played lately, marks, how near the target, and rested."""
    lately = day - passage.last_day <= numbers.passage_stale_days
    near = (passage.tempo_bpm or 0) / passage.target_bpm if passage.target_bpm else 0.0
    return lately, len(passage.marks), min(near, 1.0), -passage.takes_today, passage.name
