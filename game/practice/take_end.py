"""When a take against the click is over: when its player has come to the end, and never while they are still at it.

Nobody is cut off by the clock alone. Who has read the last note is given time to put it right; who still owes some is
waited for through a stop, a bar gone over or slow playing, and the click goes on meanwhile.
"""

from dataclasses import dataclass

LINGER_S = 0.6
"""So long after the last note is over by the click no take ends: the last note may come late."""

AFTER_LAST_BEATS, AFTER_LAST_S = 2.0, 1.5
"""Where all is read: so many beats after the last note was right, or after anything was heard where it was not; and so
many seconds at least.
"""

SILENT_BARS, LEAST_SILENT_S, MOST_SILENT_S = 2.0, 5.0, 8.0
"""Where notes are owed: silence of so many bars ends the take, within these bounds, counted from when the next note is
due. A stop of four seconds is less than that.
"""

LEAST_LONGER_S = 15.0
"""Who plays on, whatever it is, is waited for as long again as the music lasts, and at least so long."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeSoFar:
    """How far a take has come, in seconds from its time 0.

    `end_s` is where its last note is over by the click. `heard_s` is the start of the latest played note, None before
    the first. `complete_s` is when the last written note was answered right. Until it was, `awaited_s` is when the next
    written note that waits for an answer is due by the player's own clock, None where each has one.
    """

    end_s: float
    beat_s: float
    bar_s: float
    heard_s: float | None = None
    complete_s: float | None = None
    awaited_s: float | None = None


def is_at_its_end(take: TakeSoFar, now_s: float) -> bool:
    """Whether a take is over at `now_s`, counted from its time 0."""
    by_the_click_s = take.end_s + LINGER_S
    if now_s < by_the_click_s:
        return False
    if take.heard_s is None:
        return True
    after_last_s = max(AFTER_LAST_BEATS * take.beat_s, AFTER_LAST_S)
    if take.complete_s is not None:
        return now_s >= take.complete_s + after_last_s
    longest_s = by_the_click_s + max(take.end_s, LEAST_LONGER_S)
    if take.awaited_s is None:
        return now_s >= min(take.heard_s + after_last_s, longest_s)
    silent_s = min(max(SILENT_BARS * take.bar_s, LEAST_SILENT_S), MOST_SILENT_S)
    return now_s >= min(max(take.heard_s, take.awaited_s) + silent_s, longest_s)
