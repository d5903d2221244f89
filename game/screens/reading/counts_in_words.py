"""The three counts of a take in words, each with its total, and its longest clean run."""

from dataclasses import dataclass

from game.coach.stages import Stage
from game.message import Message, message
from game.practice.take_counts import TakeCounts


@dataclass(frozen=True, slots=True, kw_only=True)
class CountSaid:
    """A count: the large `figure`, "of 18" beside it, and `what` was counted below."""

    figure: int
    of: Message
    what: Message


def counts_in_words(counts: TakeCounts, stage: Stage) -> tuple[CountSaid, ...]:
    """One count without a rhythm, three with it; all of notes have one total. None where nothing was asked."""
    if not counts.asked:
        return ()
    of = message("count.of", total=counts.asked)
    named = "count.named" if stage.named else "count.right" if stage.pitch_counts else "count.played"
    said = [CountSaid(figure=counts.right, of=of, what=message(named))]
    if counts.in_time is not None:
        in_time = "count.in_time" if stage.pitch_counts else "count.played_in_time"
        said.append(CountSaid(figure=counts.in_time, of=of, what=message(in_time)))
    if counts.bars_kept is not None:
        of_bars = message("count.of_bars", count=counts.bars)
        said.append(CountSaid(figure=counts.bars_kept, of=of_bars, what=message("count.kept_going")))
    return tuple(said)


def run_in_words(counts: TakeCounts) -> Message | None:
    """How long the longest run was; None where there was none."""
    if counts.run is None:
        return None
    whole = counts.run.notes == counts.asked == counts.right
    return message("run.all" if whole else "run.longest", count=counts.run.notes)
