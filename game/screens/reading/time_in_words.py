"""The time of a take in words: how many notes came in time and why not more, and whether the player kept going.

One sentence for each. All they claim is read off the judgement, and of what it does not tell nothing is said.
"""

from collections.abc import Collection

from game.judging.verdicts import OF_PACE, EventKind, TakeEvent
from game.message import Message, message
from game.practice.finished_take import FinishedTake
from game.screens.reading.bars_in_words import bar_of
from game.text.catalogue import tell

# From here on a lean, or a spread, is worth a word (ours; a beat moved by less is hardly noticed at medium tempi,
# Friberg & Sundberg 1995).
LEAN_MS, STEADY_MS = 15.0, 35.0
_LEAST_PERCENT = 1
_BOTH = 2

# What breaks the flow, the gravest first.
_BREAKS = {
    EventKind.RESTART: "going.began_again",
    EventKind.STOP: "going.stopped",
    EventKind.SKIP: "going.left_out",
    EventKind.REPAIR: "going.put_right",
}


def timing_in_words(finished: FinishedTake) -> tuple[str, ...]:
    """The sentence about time, the one about keeping going, and what else is worth telling of the pulse."""
    said = [_in_time(finished), _keeping_going(finished)]
    if finished.usual_bpm is not None:
        said.append(message("timing.usual", bpm=round(finished.usual_bpm)))
    if finished.swing is not None:
        said.append(message("timing.swing", ratio=finished.swing))
    turned = finished.shown_otherwise
    if turned.right:
        said.append(message("timing.right_after_all", count=turned.right))
    if turned.wrong:
        said.append(message("timing.wrong_after_all", count=turned.wrong))
    return tuple(tell(one) for one in said if one is not None)


def _in_time(finished: FinishedTake) -> Message | None:
    """Of the right notes, how many came in time, and how the player's own beat lay."""
    summary = finished.summary
    right, in_time = summary.right_notes, summary.in_time
    if in_time is None or not right:
        return None
    if in_time == right:
        counted = message("timing.both_in_time") if right == _BOTH else message("timing.all_in_time", count=right)
    elif in_time:
        counted = message("timing.some_in_time", count=in_time)
    else:
        counted = message("timing.none_in_time", count=right)
    left = _pace(finished)
    if left is not None:
        return message("timing.counted_but" if in_time == right else "timing.counted", counted=counted, how=left)
    how = _beat(finished)
    if how is None:
        return message("timing.counted_alone", counted=counted)
    return message("timing.counted", counted=counted, how=how)


def _pace(finished: FinishedTake) -> Message | None:
    """That the player ran ahead of the click or fell behind it, and by how much or where; None for neither."""
    events = [event for event in finished.judgement.events if event.kind in OF_PACE]
    if not events:
        return None
    first = {kind: next(event for event in events if event.kind is kind) for kind in {event.kind for event in events}}
    if len(first) > 1:
        bars = {event.kind.name.lower(): _bar_at(finished, event) for event in first.values()}
        return message("timing.ahead_and_behind", **bars)
    (kind,) = first
    lost = _lost_at_once(finished, events)
    if lost is not None:
        return message("timing.fell_a_beat_behind", bar=_bar_at(finished, lost))
    percent = finished.summary.ahead_percent
    ahead = kind is EventKind.RAN_AHEAD
    key = "timing.ran_ahead" if ahead else "timing.fell_behind"
    own = round(percent or 0.0) * (1 if ahead else -1)
    if own >= _LEAST_PERCENT:
        return message(f"{key}_by", percent=own)
    return message(key, bar=_bar_at(finished, first[kind]))


def _lost_at_once(finished: FinishedTake, paces: list[TakeEvent]) -> TakeEvent | None:
    """Where a beat was lost at once: the judge tells of it as a stop as well, at the same note."""
    stops = {event.n for event in finished.judgement.events if event.kind is EventKind.STOP}
    return next((event for event in paces if event.kind is EventKind.FELL_BEHIND and event.n in stops), None)


def _beat(finished: FinishedTake) -> Message | None:
    """How notes lay about the beat, where the player stayed with it."""
    bias_ms, spread_ms = finished.summary.bias_ms, finished.summary.spread_ms
    if finished.tempo_bpm is not None and bias_ms is not None and abs(bias_ms) >= LEAN_MS:
        return message("timing.early" if bias_ms < 0 else "timing.late")
    if spread_ms is None:
        return None
    return message("timing.steady" if spread_ms <= STEADY_MS else "timing.uneven")


def pulse_in_words(finished: FinishedTake) -> Message | None:
    """How the player's own beat left that of the metronome, as a clause; None where it was steady."""
    how = _pace(finished) or _beat(finished)
    return None if how == message("timing.steady") else how


def is_steady(finished: FinishedTake) -> bool:
    """Whether the beat was steady, and the player stayed with it."""
    return _pace(finished) is None and _beat(finished) == message("timing.steady")


def _keeping_going(finished: FinishedTake) -> Message | None:
    """One sentence about keeping going; a take that was left before its end is told of with its notes."""
    return message("going.kept") if finished.summary.kept_going else break_in_words(finished)


def break_in_words(finished: FinishedTake, kinds: Collection[EventKind] = tuple(_BREAKS)) -> Message | None:
    """What of these broke the flow most, and where it did first; None where nothing did."""
    for kind, key in _BREAKS.items():
        events = [event for event in finished.judgement.events if event.kind is kind and kind in kinds]
        if events:
            return message(key, count=len(events), bar=_bar_at(finished, events[0]))
    return None


def _bar_at(finished: FinishedTake, event: TakeEvent) -> str:
    """Where in the music something happened: at its first bar where it happened before the first note."""
    notes = [note.note for note in finished.expected if note.n == event.n] or [finished.expected[0].note]
    return bar_of(finished.passage, notes[0])
