"""A take in words: what was clean, what went wrong and why, and what comes next."""

from game.judging.cause import octaves_too_high
from game.judging.verdicts import OF_PACE, Cause, NoteVerdict, Verdict
from game.music.keys import spelled
from game.music.names import NoteNames, name_in, spelling_of
from game.practice.finished_take import Finished, FinishedNaming, FinishedTake
from game.practice.pencilled import PlacedMark, marks_of_take, name_marks, pace_marks
from game.screens.reading.bars_in_words import bar_of
from game.screens.reading.time_in_words import timing_in_words
from game.text.catalogue import say

# Sentences about single notes in one account: more would not be read.
_MOST_DETAILS = 3


def cause_in_words(cause: Cause | None, octaves: int = 0) -> str:
    """Why a pitch was wrong; nothing where that cannot be told. `octaves` is how many too high, negative too low."""
    if cause is Cause.OCTAVE and octaves:
        return say("cause.octave_too_high" if octaves > 0 else "cause.octave_too_low", count=abs(octaves))
    return "" if cause in (None, Cause.UNKNOWN) else say(f"cause.{cause.value}")


def summary_in_words(finished: Finished, names: NoteNames) -> tuple[str, ...]:
    """Sentences about a take, the main one first."""
    if isinstance(finished, FinishedNaming):
        return (_named(finished),)
    details = [
        _told(finished, verdict, names)
        for verdict in finished.judgement.verdicts
        if verdict.verdict in (Verdict.WRONG_PITCH, Verdict.OTHER_PLACE) and verdict.first is not None
    ]
    sentences = [_notes(finished)]
    if finished.timed:
        sentences += timing_in_words(finished)
    sentences += details[: _MOST_DETAILS if not finished.timed else 1]
    helped = finished.summary.counts[Verdict.HINTED]
    if helped:
        sentences.append(say("result.helped", count=helped))
    slowest = finished.slowest
    if slowest is not None and not details and not finished.timed:
        note = finished.expected[slowest.n - 1].note
        written = name_in(spelling_of(note.pitch), names)
        sentences.append(say("result.slow", written=written, bar=bar_of(finished.passage, note)))
    return tuple(sentences)


def marks_of_finished(finished: Finished, names: NoteNames) -> tuple[PlacedMark, ...]:
    """The pencil marks of a take of either stage."""
    if isinstance(finished, FinishedNaming):
        return name_marks(finished.passage.notes, finished.named, names)
    words = {kind: say(f"page.{kind.name.lower()}") for kind in OF_PACE}
    return (*marks_of_take(finished), *pace_marks(finished.expected, finished.judgement.events, words))


def _named(finished: FinishedNaming) -> str:
    read, right, count = finished.read_count, finished.clean_count, finished.note_count
    if not read:
        return say("result.none")
    if read < count:
        return say("result.stopped", read=read, count=count, right=right)
    key = "result.named_all" if right == count else "result.named_some"
    return say(key, count=count, right=right)


def _notes(finished: FinishedTake) -> str:
    """How many notes of those asked were right, and nothing of their time: any pitch is right in `rhythm`."""
    read, count, summary = finished.read_count, finished.note_count, finished.summary
    if not read:
        return say("result.none")
    if read < count:
        return say("result.stopped", read=read, count=count, right=summary.right_notes)
    if not summary.asked:
        return say("result.no_homes")
    if not finished.timed and summary.right_notes == summary.asked:
        return say("result.found", count=summary.asked)
    many = {summary.asked: "all", 0: "none"}.get(summary.right_notes, "some")
    kind = "right" if finished.stage.pitch_counts else "played"
    return say(f"result.{many}_{kind}", count=summary.asked, right=summary.right_notes)


def _told(finished: FinishedTake, verdict: NoteVerdict, names: NoteNames) -> str:
    """One sentence about a note that was not clean."""
    expected = finished.expected[verdict.n - 1]
    note, first = expected.note, verdict.first
    written = name_in(spelling_of(note.pitch), names)
    if first is None:
        return ""
    if verdict.verdict is Verdict.OTHER_PLACE and first.place is not None and expected.home is not None:
        return say(
            "result.other_place",
            written=written,
            bar=bar_of(finished.passage, note),
            string=first.place.string,
            fret=first.place.fret,
            home_string=expected.home.place.string,
            home_fret=expected.home.place.fret,
        )
    key = finished.passage.bars[note.heads[0].bar].key
    played = spelled(first.sounding + 12 * finished.passage.reading.octaves_down, key)
    cause = cause_in_words(verdict.cause, octaves_too_high(expected, first.sounding))
    name = name_in(spelling_of(played), names)
    return say("result.wrong", written=written, bar=bar_of(finished.passage, note), played=name, cause=cause).strip()
