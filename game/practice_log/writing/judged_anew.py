"""What a judge of today makes of a take that an older one judged, from what the log holds of it.

Not every take can be judged again: some were never heard, and of some the log does not hold enough. How far a take went
is taken from its old judgement, for the log does not tell when the player ended it.
"""

from collections.abc import Sequence
from dataclasses import replace
from enum import Enum
from itertools import pairwise

from game.instrument.decoding.played import PlayedNote
from game.judging.cause import with_causes
from game.judging.verdicts import EventKind, Judgement, NoteVerdict, TakeEvent, Verdict
from game.practice_log.rows.log_records import RawTake, TakeBegun
from game.practice_log.writing.cut_short import in_rhythm, judged_again

_BACK_S = 0.5
"""A note of so much before the one that came before it: the player went back, and the clock began again."""

_SAME_MS = 1.0


class LeftAsItWas(Enum):
    """Why a take keeps the judgement it has. `SAME`: the judge of today says the same."""

    SAME = "said the same"
    NOT_HEARD = "not heard"
    NOTHING_PLAYED = "nothing played"
    WENT_BACK = "went back"
    DAMAGED = "makes no sense"


def judged_anew(begun: TakeBegun, raw: RawTake, before: Judgement) -> Judgement | LeftAsItWas:
    """The judgement of today beside the one of `before`, or why there is none."""
    if begun.terms.self_marked or begun.terms.stage.named:
        return LeftAsItWas.NOT_HEARD
    if not raw.played or not begun.asked.notes:
        return LeftAsItWas.NOTHING_PLAYED
    if [verdict.n for verdict in before.verdicts] != [note.n for note in begun.asked.notes]:
        return LeftAsItWas.DAMAGED
    if not in_rhythm(begun):
        # The page itself settled which note was asked, and all judges take that as it was.
        now = replace(before, verdicts=with_causes(begun.asked.notes, before.verdicts))
    elif _went_back(raw.played, before):
        # What was played before that is no part of the take, and nothing says which notes those are.
        return LeftAsItWas.WENT_BACK
    else:
        now = judged_again(begun, raw, upto=_came_to(before.verdicts))
    return LeftAsItWas.SAME if say_the_same(before, now) else now


def _came_to(verdicts: Sequence[NoteVerdict]) -> int:
    """How many notes the take came to."""
    return max((at for at, verdict in enumerate(verdicts, start=1) if verdict.verdict is not Verdict.UNREAD), default=0)


def _went_back(played: Sequence[PlayedNote], before: Judgement) -> bool:
    if any(later.started_s < earlier.started_s - _BACK_S for earlier, later in pairwise(played)):
        return True
    unread = {verdict.n for verdict in before.verdicts if verdict.verdict is Verdict.UNREAD}
    return any(event.kind is EventKind.RESTART and event.n in unread for event in before.events)


def say_the_same(one: Judgement, other: Judgement) -> bool:
    """Whether two judgements of a take say the same of it, times to the millisecond."""
    return (
        len(one.verdicts) == len(other.verdicts)
        and len(one.extra) == len(other.extra)
        and len(one.events) == len(other.events)
        and all(map(_same_verdict, one.verdicts, other.verdicts))
        and all(map(_same_event, one.events, other.events))
    )


def _same_verdict(one: NoteVerdict, other: NoteVerdict) -> bool:
    words = (one.verdict, one.cause, one.octave_off) == (other.verdict, other.cause, other.octave_off)
    heard = [note.sounding for note in one.answers] == [note.sounding for note in other.answers]
    times = _near(one.offset_ms, other.offset_ms) and _near(one.time_to_find_ms, other.time_to_find_ms)
    return words and heard and times


def _same_event(one: TakeEvent, other: TakeEvent) -> bool:
    return (one.kind, one.n) == (other.kind, other.n) and _near(one.time_ms, other.time_ms)


def _near(one_ms: float | None, other_ms: float | None) -> bool:
    if one_ms is None or other_ms is None:
        return one_ms is other_ms
    return abs(one_ms - other_ms) < _SAME_MS
