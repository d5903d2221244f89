"""A take in words: what was clean, what went wrong and why, and what comes next."""

from game.judging.cause import octaves_too_high
from game.judging.verdicts import Cause, EventKind, NoteVerdict, Verdict
from game.music.keys import spelled
from game.music.names import NoteNames, name_in, spelling_of
from game.music.passage import Passage
from game.music.written import WrittenNote
from game.practice.finished_take import Finished, FinishedNaming, FinishedTake
from game.practice.pencilled import PlacedMark, marks_of_take, name_marks
from game.text.catalogue import say

# Sentences about single notes in one account: more would not be read.
_MOST_DETAILS = 3
# From here on a lean, or a spread, is worth a word (ours; a beat moved by less is hardly noticed at medium tempi,
# Friberg & Sundberg 1995).
LEAN_MS, STEADY_MS = 15.0, 35.0


def bars_in_words(passage: Passage) -> str:
    """Which bars, by their printed numbers; a pickup bar is called so and not by a number."""
    pickup, bars = passage.bars[0].pickup, passage.bars
    numbered = bars[1:] if pickup and len(bars) > 1 else bars
    words = say("bars.one", number=numbered[0].number) if len(numbered) == 1 else ""
    words = words or say("bars.several", first=numbered[0].number, last=numbered[-1].number)
    return say("bars.with_pickup", bars=words) if pickup else words


def _bar_of(finished: FinishedTake, note: WrittenNote) -> str:
    """Where a note stands."""
    pickup = finished.passage.bars[note.heads[0].bar].pickup
    return say("bar.pickup") if pickup else say("bar.numbered", number=note.bar)


def cause_in_words(cause: Cause | None, octaves: int = 0) -> str:
    """Why a pitch was wrong; nothing where that cannot be told. `octaves` is how many too high, negative too low."""
    if cause is Cause.OCTAVE and octaves:
        return say("cause.octave_too_high" if octaves > 0 else "cause.octave_too_low", count=abs(octaves))
    return "" if cause in (None, Cause.UNKNOWN) else say(f"cause.{cause.value}")


def timing_in_words(finished: FinishedTake) -> tuple[str, ...]:
    """Timing in words: whether the player kept going, leans and is steady; figures are left to the report."""
    summary = finished.summary
    said = []
    kinds = [event.kind for event in finished.judgement.events]
    if EventKind.RESTART in kinds or EventKind.STOP in kinds:
        said.append(say("timing.stopped"))
    elif summary.kept_going:
        said.append(say("timing.kept_going"))
    bias, spread = summary.bias_ms, summary.spread_ms
    if finished.tempo_bpm is not None and bias is not None and abs(bias) >= LEAN_MS:
        said.append(say("timing.early" if bias < 0 else "timing.late"))
    if spread is not None:
        said.append(say("timing.steady" if spread <= STEADY_MS else "timing.uneven"))
    if finished.usual_bpm is not None:
        said.append(say("timing.usual", bpm=round(finished.usual_bpm)))
    if finished.swing is not None:
        said.append(say("timing.swing", ratio=finished.swing))
    if finished.shown_otherwise:
        said.append(say("timing.otherwise", count=finished.shown_otherwise))
    return tuple(said)


def summary_in_words(finished: Finished, names: NoteNames) -> tuple[str, ...]:
    """Sentences about a take, the main one first."""
    if isinstance(finished, FinishedNaming):
        return (_headline(finished, "named_all", "named_some"),)
    details = [
        _told(finished, verdict, names)
        for verdict in finished.judgement.verdicts
        if verdict.verdict in (Verdict.WRONG_PITCH, Verdict.OTHER_PLACE) and verdict.first is not None
    ]
    sentences = [_headline(finished, "all", "some")]
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
        sentences.append(say("result.slow", written=written, bar=_bar_of(finished, note)))
    return tuple(sentences)


def marks_of_finished(finished: Finished, names: NoteNames) -> tuple[PlacedMark, ...]:
    """The pencil marks of a take of either stage."""
    if isinstance(finished, FinishedNaming):
        return name_marks(finished.passage.notes, finished.named, names)
    return marks_of_take(finished)


def _headline(finished: Finished, all_clean: str, some_clean: str) -> str:
    read, clean, asked = finished.read_count, finished.clean_count, finished.note_count
    if not read:
        return say("result.none")
    if read < asked:
        return say("result.stopped", read=read, count=asked, clean=clean)
    if clean == asked:
        timed = isinstance(finished, FinishedTake) and finished.timed
        return say("result.all_timed" if timed else f"result.{all_clean}", count=asked)
    return say(f"result.{some_clean}", clean=clean, count=asked)


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
            bar=_bar_of(finished, note),
            string=first.place.string,
            fret=first.place.fret,
            home_string=expected.home.place.string,
            home_fret=expected.home.place.fret,
        )
    key = finished.passage.bars[note.heads[0].bar].key
    played = spelled(first.sounding + 12 * finished.passage.reading.octaves_down, key)
    cause = cause_in_words(verdict.cause, octaves_too_high(expected, first.sounding))
    name = name_in(spelling_of(played), names)
    return say("result.wrong", written=written, bar=_bar_of(finished, note), played=name, cause=cause).strip()
