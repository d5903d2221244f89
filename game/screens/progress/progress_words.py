"""What the days of practice say of single notes, in words."""

from game.coach.plan.mixed_maps import CostOfMixing
from game.judging.verdicts import Cause
from game.message import Message, message, verbatim
from game.music.names import NoteNames
from game.practice_log.queries.figure_records import NoteFigures
from game.report.figure_words import note_said
from game.report.student import Quicker
from game.screens.progress.progress_figures import Progress
from game.text.catalogue import tell

_TOLD_OF_CAUSES = frozenset(cause.value for cause in Cause) - {Cause.UNKNOWN.value}


def notes_in_words(progress: Progress, names: NoteNames) -> tuple[str, ...]:
    """Sentences: what several maps on one day cost, the slowest notes, and what got quicker."""
    told = [] if progress.mixing is None else [mixing_told(progress.mixing)]
    if progress.slowest:
        told.append(message("progress.slowest", notes=[_slow(note, names) for note in progress.slowest]))
    if progress.quicker:
        told.append(message("progress.quicker", gains=[_gain(gain, names) for gain in progress.quicker]))
    return tuple(map(tell, told))


def mixing_told(cost: CostOfMixing) -> Message:
    """How much longer a note takes on days with several maps; or that there is no sure difference."""
    alone, mixed = round(cost.alone_s, 1), round(cost.mixed_s, 1)
    if cost.sure and mixed > alone:
        return message("mixing.costs", more=mixed - alone, mixed=mixed, alone=alone)
    return message("mixing.costs_nothing", mixed=mixed, alone=alone)


def _slow(note: NoteFigures, names: NoteNames) -> Message:
    """A note and how long it takes, with why it was wrong most often, where that can be told. One that is often wrong
    stands among the slow too, and may never have been found alone: then there is no time to tell.
    """
    name = note_said(note.written, names)
    if note.find_s is None:
        seconds = message("progress.often_wrong", name=name)
    else:
        seconds = message("progress.slow_note", name=name, find=note.find_s)
    cause = note.causes[0][0] if note.causes else ""
    if cause in _TOLD_OF_CAUSES:
        return message("progress.slow_with_cause", note=seconds, cause=message(f"cause_word.{cause}"))
    return seconds


def _gain(gain: Quicker, names: NoteNames) -> Message:
    name = verbatim(note_said(gain.written, names))
    return message("progress.gain", name=name, before=gain.before_s, now=gain.now_s)
