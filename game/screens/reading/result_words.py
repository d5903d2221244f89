"""What a result tells: counts of one total, the commonest cause, the one piece of advice, and what is told beside."""

from dataclasses import dataclass, replace

from game.coach.stages import Stage
from game.judging.verdicts import Verdict
from game.message import message, verbatim
from game.music.names import NoteNames
from game.music.written import HeadId
from game.practice.finished_take import Finished, FinishedTake
from game.practice.hand_in_take import HandInTake, hand_told
from game.practice.take_counts import TakeCounts, counts_of
from game.screens.reading.counts_in_words import CountSaid, counts_in_words, run_in_words
from game.screens.reading.run_underline import RunUnderline
from game.screens.reading.time_in_words import pulse_in_words, timing_in_words
from game.screens.reading.why_in_words import unsure_in_words, was_heard_enough, why_in_words
from game.text.catalogue import say, tell, tell_all

NOTHING = verbatim("")
LEAST_RUN = 4
"""Fewer notes in a row are no run worth a stroke (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ResultWords:
    """What stands below the page. `beside` are sentences for which there may be no room. `of_hand` where the way of the
    hand is told in the place of the cause.
    """

    counts: tuple[CountSaid, ...]
    why: str
    now: str
    beside: tuple[str, ...]
    of_hand: bool = False


def result_words(finished: Finished, now: str, names: NoteNames, hand: HandInTake | None = None) -> ResultWords:
    """The words of a take that is over; `now` is what comes next, `hand` the way of the hand in free reading: where it
    is known, it is told, and the cause beside it.
    """
    why = tell_all(why_in_words(finished, names))
    beside = _beside(finished, why) if isinstance(finished, FinishedTake) and finished.timed else ()
    of_hand = hand is not None and hand.shown is not None
    if hand is not None:
        told = tell(hand_told(hand))
        why, beside = (told, (why, *beside)) if of_hand else (f"{why} {told}", beside)
    stage = finished.stage if isinstance(finished, FinishedTake) else Stage.LETTERS
    counts = counts_in_words(counts_of(finished), stage)
    if is_by_word(finished):
        return ResultWords(counts=_by_word(counts), why=why, now=now, beside=())
    if isinstance(finished, FinishedTake) and not finished.timed:
        counts, beside = _with_unsure(counts, finished, why), ()
    return ResultWords(counts=counts, why=why, now=now, beside=beside, of_hand=of_hand)


def _beside(finished: FinishedTake, why: str) -> tuple[str, ...]:
    """What neither counts nor cause tell: what could not be told, how the player's beat lay, where it was broken, their
    own pace.
    """
    unsure = unsure_in_words(finished)
    apart = () if unsure is None or tell(unsure) in why else (tell(unsure),)
    told, summary, pulse = timing_in_words(finished), finished.summary, pulse_in_words(finished)
    counted = bool(summary.right_notes) and summary.in_time is not None
    new = told if not counted or (pulse is not None and tell(pulse) not in why) else told[1:]
    return (*apart, *(sentence for sentence in new if sentence not in (why, say("going.kept"))))


def _with_unsure(counts: tuple[CountSaid, ...], finished: FinishedTake, why: str) -> tuple[CountSaid, ...]:
    """The one count of a take without a rhythm, with how many notes could not be told: beside it there is room."""
    unsure = finished.summary.counts[Verdict.UNSURE]
    if not unsure or tell(message("unsure.do_not_count", count=unsure)) in why:
        return counts
    return tuple(replace(one, what=message("count.and_unsure", what=one.what, count=unsure)) for one in counts)


def is_by_word(finished: Finished) -> bool:
    """Whether its player said what was right: that stays pencil."""
    return isinstance(finished, FinishedTake) and finished.by_own_word


def _by_word(counts: tuple[CountSaid, ...]) -> tuple[CountSaid, ...]:
    """Of what nobody heard there is one count, and it says whose it is."""
    return tuple(
        replace(count, of=message("count.by_own_word", **dict(count.of.values)), what=NOTHING) for count in counts[:1]
    )


def run_underline(finished: Finished) -> RunUnderline | None:
    """The longest run as it is shown on the page, None for none that is worth it."""
    if isinstance(finished, FinishedTake) and not was_heard_enough(finished):
        return None
    counts = counts_of(finished)
    said = run_in_words(counts)
    if is_by_word(finished) or counts.run is None or said is None or counts.run.notes < LEAST_RUN:
        return None
    return RunUnderline(_heads(finished, counts), tell(said))


def _heads(finished: Finished, counts: TakeCounts) -> tuple[HeadId, ...]:
    run = counts.run
    assert run is not None, "only a run is drawn"
    return tuple(head for note in finished.passage.notes if run.first <= note.n <= run.last for head in note.heads)
