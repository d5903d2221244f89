"""What was made of a take, as `homefret take` tells it."""

from collections.abc import Sequence
from typing import Any

from game.commands.answers.take_answer import ExtraNote, TakeSummary, TakeVerdict, TimedEvent
from game.commands.printing import print_table
from game.judging.expected import ExpectedNote
from game.judging.summary import Summary, summary_of
from game.judging.verdicts import Judgement, NoteVerdict, TakeEvent, Verdict
from game.message import Message, message
from game.neck.neck_map import NeckMap
from game.text.catalogue import in_figures, say, tell


def judged_fields(
    judgement: Judgement, expected: tuple[ExpectedNote, ...], *, judge: int, free_on: NeckMap | None = None
) -> dict[str, Any]:
    """The fields of a `TakeAnswer` that say what was made of it. `judge` is the version of the judge, `free_on` the map
    of a take in free reading.
    """
    return {
        "judge_version": judge,
        "verdicts": [_verdict(verdict) for verdict in judgement.verdicts],
        "extra": [ExtraNote(played=note.sounding, time_ms=_ms(note.started_s)) for note in judgement.extra],
        "events": [
            TimedEvent(kind=event.kind, n=event.n, time_ms=round(event.time_ms, 1)) for event in judgement.events
        ],
        "summary": _summary(summary_of(judgement, expected, free_on=free_on)),
    }


def print_judged(
    judgement: Judgement,
    expected: tuple[ExpectedNote, ...],
    warnings: Sequence[Message],
    *,
    free_on: NeckMap | None = None,
) -> None:
    """A judged take for people."""
    columns = ("n", "verdict", "played", "string", "fret", "cause", "tries", "time_to_find_ms")
    print_table(columns, map(_row, judgement.verdicts))
    _print_summary(summary_of(judgement, expected, free_on=free_on), any_place=free_on is not None)
    if judgement.events:
        print(say("command.take.events", events=tuple(_event_told(event) for event in judgement.events)))
    if judgement.extra:
        print(say("command.take.extra", count=len(judgement.extra)))
    for warning in warnings:
        print(tell(warning))


def _print_summary(summary: Summary, *, any_place: bool) -> None:
    """Right notes and time, each by itself; without a clock right notes are all there is to be clean in. In free
    reading `any_place` was right.
    """
    if summary.counts[Verdict.UNSURE]:
        print(say("unsure.do_not_count", count=summary.counts[Verdict.UNSURE]))
    if not summary.asked:
        print(say("command.take.nothing_read"))
        return
    if summary.in_time is None:
        print(say("command.take.clean", share=summary.clean_share))
        return
    right = "command.take.right_in_any_place" if any_place else "command.take.right"
    print(say(right, right=summary.right_notes, asked=summary.asked))
    print(say("command.take.in_time", in_time=summary.in_time))
    if summary.ahead_percent is not None and round(summary.ahead_percent, 1):
        key = "command.take.ahead" if summary.ahead_percent > 0 else "command.take.behind"
        print(say(key, percent=abs(summary.ahead_percent)))


def _event_told(event: TakeEvent) -> Message:
    return message("command.take.event", what=message(f"event.{event.kind.name.lower()}"), n=event.n or 1)


def _row(verdict: NoteVerdict) -> tuple[object, ...]:
    told = _verdict(verdict)
    cause = say(f"cause_word.{told.cause.value}") if told.cause else None
    find_ms = None if told.time_to_find_ms is None else in_figures(told.time_to_find_ms)
    word = say(f"verdict.{told.verdict.name.lower()}")
    return told.n, word, told.played, told.string, told.fret, cause, told.tries, find_ms


def _verdict(verdict: NoteVerdict) -> TakeVerdict:
    first = verdict.first
    place = first.place if first else None
    return TakeVerdict(
        n=verdict.n,
        verdict=verdict.verdict,
        octave_off=verdict.octave_off,
        cause=verdict.cause,
        played=first.sounding if first else None,
        string=place.string if place else None,
        fret=place.fret if place else None,
        offset_ms=_rounded(verdict.offset_ms, 1),
        time_to_find_ms=_rounded(verdict.time_to_find_ms, 1),
        tries=len(verdict.answers),
        answers=[answer.sounding for answer in verdict.answers],
    )


def _summary(summary: Summary) -> TakeSummary:
    return TakeSummary(
        **{verdict.name.lower(): count for verdict, count in summary.counts.items()},
        asked=summary.asked,
        right_notes=summary.right_notes,
        in_time=summary.in_time,
        ahead_percent=_rounded(summary.ahead_percent, 1),
        clean_share=_rounded(summary.clean_share, 4),
        bias_ms=_rounded(summary.bias_ms, 1),
        spread_ms=_rounded(summary.spread_ms, 1),
        kept_going=summary.kept_going,
    )


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)


def _ms(seconds: float) -> float:
    return round(seconds * 1000, 1)
