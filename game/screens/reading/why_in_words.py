"""Why a take went as it did: the commonest cause with one note for it, or the figure that decided, or that all
was well.

One thing is named, with where it happened; what decided the next tempo comes first. Thresholds are the coach's own.
"""

from collections import defaultdict
from math import ceil

from game.coach.heard_enough import heard_enough
from game.coach.numbers import NUMBERS
from game.coach.stages import Stage
from game.coach.tempo.clean_takes import notes_needed
from game.judging.cause import octaves_too_high
from game.judging.summary import is_asked
from game.judging.verdicts import Cause, EventKind, NoteVerdict, Verdict
from game.message import Message, message
from game.music.keys import spelled
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import Pitch
from game.practice.finished_take import Finished, FinishedNaming, FinishedTake
from game.practice.pencilled import played_pitch
from game.screens.reading.bars_in_words import bar_of
from game.screens.reading.time_in_words import break_in_words, is_steady, pulse_in_words

_WRONG = frozenset((Verdict.WRONG_PITCH, Verdict.MISSED, Verdict.OTHER_PLACE, Verdict.HINTED))
_CAUSED: dict[Cause | None, str] = {
    Cause.SIGNATURE: "why.signature",
    Cause.ACCIDENTAL: "why.accidental",
    Cause.LEDGER: "why.ledger",
    Cause.SLIP: "why.slip",
}
_STEPS_OFF: dict[tuple[Cause | None, int], str] = {
    (Cause.NEIGHBOUR, 1): "why.step_high",
    (Cause.NEIGHBOUR, -1): "why.step_low",
    (Cause.THIRD, 2): "why.third_high",
    (Cause.THIRD, -2): "why.third_low",
}
"""By how far the note that was read lies above the written one, in lines and spaces."""
_TO_GO_ON = {
    "why.time_short": "why.time_short_to_go_on",
    "why.asked": "why.asked_to_go_on",
}
_DECIDING_BREAKS = (EventKind.STOP, EventKind.RESTART)
"""For these a tempo does not rise; what was left out or put right costs its notes only."""
_Kind = tuple[Verdict, Cause | None]


def why_in_words(finished: Finished, names: NoteNames) -> tuple[Message, ...]:
    """One sentence, or two where a figure decided and a note tells more; the first is never missing."""
    if not finished.read_count:
        return (message("result.none"),)
    if isinstance(finished, FinishedNaming):
        return (_named(finished, names),)
    if not was_heard_enough(finished) or not finished.summary.asked:
        return (unsure_in_words(finished) or message("result.no_homes"),)
    if finished.by_own_word:
        return _by_own_word(finished, names)
    if finished.read_count < finished.note_count:
        return _first(message("why.left", read=finished.read_count, count=finished.note_count), _cause(finished, names))
    told = _of_free_reading if finished.free_reading else _of_time if finished.timed else _of_notes
    return told(finished, names)


def unsure_in_words(finished: FinishedTake) -> Message | None:
    """How many notes could not be told; None where all were heard surely."""
    count = finished.summary.counts[Verdict.UNSURE]
    return message("unsure.do_not_count", count=count) if count else None


def was_heard_enough(finished: FinishedTake) -> bool:
    """Whether so much of it was heard surely that it counts."""
    return heard_enough(finished.summary.asked, finished.summary.counts[Verdict.UNSURE])


def is_clean_take(finished: FinishedTake) -> bool:
    """Whether right notes and time reach what is asked, and nothing broke the flow, as the coach has it."""
    summary, needed = finished.summary, needed_for(finished)
    in_time = (summary.in_time or 0) + summary.counts[Verdict.OTHER_PLACE]
    whole = finished.read_count == finished.note_count and break_in_words(finished, _DECIDING_BREAKS) is None
    return whole and was_heard_enough(finished) and summary.asked > 0 and in_time >= needed


def _by_own_word(finished: FinishedTake, names: NoteNames) -> tuple[Message, ...]:
    """What its player said, who can tell right notes and no time."""
    cause, needed, right = _cause(finished, names), needed_for(finished), finished.summary.right_notes
    if finished.timed and right < needed:
        figure = _figure(finished, "why.asked", right, needed)
        return (figure,) if cause is None else (cause, figure)
    return (cause or _said(finished),)


def _said(finished: FinishedTake) -> Message:
    """How many were right, where no note of them can be told."""
    asked, right = finished.summary.asked, finished.summary.right_notes
    if right < asked:
        return message("why.some_said", count=asked - right)
    return message("why.all_said", count=asked)


def needed_for(finished: FinishedTake) -> int:
    """How many of the notes asked the coach wants right and in time before it goes on."""
    asked = finished.summary.asked
    if finished.stage is Stage.RHYTHM or finished.tempo_bpm is None:
        return ceil(round(NUMBERS.go_on_share * asked, 6))
    return notes_needed(asked)


def _first(one: Message, then: Message | None) -> tuple[Message, ...]:
    return (one,) if then is None else (one, then)


def _of_time(finished: FinishedTake, names: NoteNames) -> tuple[Message, ...]:
    """What decided, in the coach's order: right notes, keeping going, time; then what is left to say of a clean one."""
    summary, needed = finished.summary, needed_for(finished)
    elsewhere = summary.counts[Verdict.OTHER_PLACE]
    right, in_time = summary.right_notes + elsewhere, (summary.in_time or 0) + elsewhere
    cause = _cause(finished, names)
    if cause is not None and right < needed:
        return cause, _figure(finished, "why.asked", right, needed)
    stopped = break_in_words(finished, _DECIDING_BREAKS)
    if stopped is not None:
        return (stopped,)
    if in_time < needed:
        return (_with_pulse(finished, _figure(finished, "why.time_short", in_time, needed)),)
    told = cause or break_in_words(finished)
    if told is not None:
        return (told,)
    if summary.in_time == summary.asked:
        return (message("why.all_steady" if is_steady(finished) else "why.all_in_time", count=summary.asked),)
    counted = message("why.some_in_time", count=summary.in_time or 0, asked=summary.asked)
    return (_with_pulse(finished, counted),)


def _with_pulse(finished: FinishedTake, counted: Message) -> Message:
    """What was counted, with how the player's own beat lay where that tells why."""
    how = pulse_in_words(finished)
    if how is None:
        return message("timing.counted_alone", counted=counted)
    return message("timing.counted", counted=counted, how=how)


def _figure(finished: FinishedTake, key: str, count: int, needed: int) -> Message:
    """The figure that decided. On the ladder it is a rung that is missed, before it the next demand."""
    on_ladder = finished.tempo_bpm is not None and finished.stage is not Stage.RHYTHM
    return message(key if on_ladder else _TO_GO_ON[key], count=count, asked=finished.summary.asked, needed=needed)


def _of_free_reading(finished: FinishedTake, names: NoteNames) -> tuple[Message, ...]:
    """Nothing is asked to go on: what was wrong, or that nothing was."""
    return (_cause(finished, names) or message("why.all_right", count=finished.summary.asked),)


def _of_notes(finished: FinishedTake, names: NoteNames) -> tuple[Message, ...]:
    """Without a clock: what was wrong, or what took longest, or that all were found."""
    cause = _cause(finished, names)
    if cause is not None:
        return (cause,)
    found, slowest = message("why.all_found", count=finished.summary.asked), finished.slowest
    if slowest is None or (slowest.time_to_find_ms or 0.0) < 1000 * NUMBERS.slow_find_s:
        return (found,)
    note, seconds = finished.expected[slowest.n - 1], (slowest.time_to_find_ms or 0.0) / 1000
    where = bar_of(finished.passage, note.note)
    return found, message("why.slowest", written=_name(note.note.pitch, names), bar=where, seconds=seconds)


def _named(finished: FinishedNaming, names: NoteNames) -> Message:
    wrong = [one for one in finished.named if one.verdict not in (Verdict.CLEAN, Verdict.UNREAD)]
    if not wrong:
        return message("why.all_named", count=finished.read_count)
    note = next(note for note in finished.passage.notes if note.n == wrong[0].n)
    said = {"written": _name(note.pitch, names), "bar": bar_of(finished.passage, note)}
    return message("why.misnamed", count=len(wrong), **said)


def _cause(finished: FinishedTake, names: NoteNames) -> Message | None:
    """The commonest cause, by its first note, with how often it came where that was more than once."""
    if not finished.stage.pitch_counts:
        return None
    kinds: defaultdict[_Kind, list[NoteVerdict]] = defaultdict(list)
    for verdict in finished.judgement.verdicts:
        if verdict.verdict in _WRONG and is_asked(finished.expected[verdict.n - 1], finished.free_on):
            kinds[verdict.verdict, verdict.cause].append(verdict)
    if not kinds:
        return None
    # Of equals the one that came first, but a cause that can be told before one that cannot.
    commonest = max(kinds.values(), key=lambda same: (len(same), same[0].cause not in (None, Cause.UNKNOWN)))
    told = _told(finished, commonest[0], names)
    return told if len(commonest) == 1 else message("why.so_often", what=told, count=len(commonest))


def _told(finished: FinishedTake, verdict: NoteVerdict, names: NoteNames) -> Message:
    """One note that was not right, and how."""
    expected = finished.expected[verdict.n - 1]
    said = {"written": _name(expected.note.pitch, names), "bar": bar_of(finished.passage, expected.note)}
    first = verdict.first
    if verdict.verdict is Verdict.MISSED:
        return message("why.missed", **said)
    if verdict.verdict is Verdict.HINTED:
        return message("why.helped", **said)
    if first is None:
        return message("why.not_right", **said)
    if verdict.verdict is Verdict.OTHER_PLACE:
        place = first.place
        at = {} if place is None else {"string": place.string, "fret": place.fret}
        return message("why.other_place", **said, **at) if at else message("why.not_right", **said)
    return _misread(finished, verdict, names, said)


def _misread(finished: FinishedTake, verdict: NoteVerdict, names: NoteNames, said: dict[str, str]) -> Message:
    """How a wrong pitch is told, of which note and where being known."""
    expected, sounding = finished.expected[verdict.n - 1], verdict.answers[0].sounding
    octaves = octaves_too_high(expected, sounding)
    if octaves:
        return message("why.octave_high" if octaves > 0 else "why.octave_low", **said, count=abs(octaves))
    key = finished.passage.bars[expected.note.heads[0].bar].key
    written, midi = expected.note.pitch, sounding + 12 * finished.passage.reading.octaves_down
    read_as = spelled(midi, key)
    off = _STEPS_OFF.get((verdict.cause, read_as.staff_step - written.staff_step))
    # Where no step is told of, the name is that of the mark on the page.
    said = {**said, "played": _name(read_as if off else played_pitch(written, midi, key), names)}
    if verdict.cause is Cause.SIGNATURE and key.fifths == 0:
        # Read with a sign too many: there is no signature to look at.
        return message("why.no_signature", **said)
    return message(off or _CAUSED.get(verdict.cause, "why.played"), **said)


def _name(pitch: Pitch, names: NoteNames) -> str:
    return name_in(spelling_of(pitch), names)
