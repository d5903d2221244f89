"""What is played in the count-in of a rhythm, where pitches are alike: only the time tells what a note is for. Pure.

Who taps along with the count-in plays none of the music yet. One note alone may be the first of the music all the same,
come in too early: it waits until it is known whether the first is played when it is due.
"""

from dataclasses import dataclass, replace

from game.instrument.decoding.played import PlayedNote

_EARLY_BEATS, _MOST_EARLY_S = 0.5, 0.4
"""So much before the music begins a note is its first one, and nearer than a tap with the click before (ours)."""

_LATE_SHARE = 0.5
"""After half of that its first note is not played any more: it was, or the second one comes as early as the first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CountIn:
    """Notes before `opens_s` are of the count-in; one from then on up to `answered_s` may answer the first written one.
    `held` are those of the count-in so far, `over` says that the music was begun. All in seconds from time 0.
    """

    opens_s: float
    answered_s: float
    held: tuple[PlayedNote, ...] = ()
    over: bool = False


def count_in_before(*, begins_s: float, first_due_s: float, beat_s: float) -> CountIn:
    """The count-in before music that begins at `begins_s`, its first note due at `first_due_s`."""
    early_s = min(_EARLY_BEATS * beat_s, _MOST_EARLY_S)
    return CountIn(opens_s=begins_s - early_s, answered_s=first_due_s + _LATE_SHARE * early_s)


def after_note(count_in: CountIn, note: PlayedNote) -> tuple[CountIn, tuple[PlayedNote, ...]]:
    """The count-in after a note, and the notes that are of the music by it, in their order."""
    if note.started_s < count_in.opens_s:
        return replace(count_in, held=(*count_in.held, note)), ()
    if count_in.over:
        return count_in, (note,)
    came_early = len(count_in.held) == 1 and note.started_s > count_in.answered_s
    of_music = (*count_in.held, note) if came_early else (note,)
    return replace(count_in, held=(), over=True), of_music


def revised(count_in: CountIn, before: PlayedNote, after: PlayedNote | None) -> CountIn:
    """The count-in where a note of it turned out to be another, or none."""
    held = (after if note == before else note for note in count_in.held)
    return replace(count_in, held=tuple(note for note in held if note is not None))
