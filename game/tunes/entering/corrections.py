"""Corrections on the page, at the note under the pencil: longer and shorter, a note more, a note less. Pure.

What lies between two notes that follow each other is one boundary: a longer note takes from the next, a shorter one
gives to it. Where a rest follows, the rest takes and gives.
"""

from dataclasses import replace
from fractions import Fraction

from game.message import message
from game.tunes.entering.draft import Draft, DraftOnset, DraftPitch, bar_line_from
from game.tunes.entering.entering import Entering, changed, within

COARSE = (Fraction(1, 2),)
"""Where a boundary may lie, in quarter notes: on eighths."""
FINE = (Fraction(1, 4), Fraction(1, 3))
"""On sixteenths and triplets of eighths."""


def lengthened(state: Entering, by: int, *, fine: bool = False) -> Entering:
    """The note at the pencil ends one step later, or earlier for -1. A note without a rhythm is none to correct."""
    draft, at = state.draft, state.at
    if at >= draft.timed:
        return replace(state, said=message("writing.no_rhythm_yet"))
    end = draft.end_of(at)
    wanted = _step(end, by, FINE if fine else COARSE)
    if wanted <= draft.onsets[at].at:
        return replace(state, said=message("writing.no_shorter"))
    after = _ending_at(draft, at, end, wanted)
    if after is None:
        return replace(state, said=message("writing.no_room"))
    return changed(state, after)


def _step(at: Fraction, by: int, grids: tuple[Fraction, ...]) -> Fraction:
    """The next place of any grid after or before a time."""
    if by > 0:
        return min((at // grid + 1) * grid for grid in grids)
    return max((-(-at // grid) - 1) * grid for grid in grids)


def _ending_at(draft: Draft, at: int, end: Fraction, wanted: Fraction) -> Draft | None:
    """The draft in which a note ends elsewhere; None where the next one leaves no room."""
    onsets = list(draft.onsets)
    has_next = at + 1 < len(draft.onsets)
    if onsets[at].rest_at is not None or not has_next:
        following = onsets[at + 1].at if has_next else None
        if following is not None and wanted > following:
            return None
        last_line = max(draft.settled, bar_line_from(draft, wanted)) if not has_next else draft.settled
        full = following if following is not None else last_line
        onsets[at] = replace(onsets[at], rest_at=None if wanted == full else wanted)
        return replace(draft, onsets=tuple(onsets), settled=last_line)
    if wanted > end and wanted >= draft.end_of(at + 1):
        return None
    onsets[at + 1] = replace(onsets[at + 1], at=wanted)
    return replace(draft, onsets=tuple(onsets))


# Where a note can be divided, in quarter notes, the coarsest first.
_HALVES = (Fraction(1), Fraction(1, 2), Fraction(1, 4), Fraction(1, 8))


def rubbed_out(state: Entering) -> Entering:
    """The note at the pencil goes, and leaves a rest; one without a rhythm leaves nothing."""
    draft, at = state.draft, state.at
    if not draft.pitches:
        return state
    pitches = (*draft.pitches[:at], *draft.pitches[at + 1 :])
    onsets = list(draft.onsets)
    if at < draft.timed:
        gone = onsets.pop(at)
        if at and onsets[at - 1].rest_at is None:
            onsets[at - 1] = replace(onsets[at - 1], rest_at=gone.at)
    return within(changed(state, replace(draft, pitches=pitches, onsets=tuple(onsets))))


def inserted(state: Entering) -> Entering:
    """A note more behind the one at the pencil, on the same pitch, in the second half of its time; the pencil goes to
    it, and what is played next is its pitch.
    """
    draft, at = state.draft, state.at
    if not draft.pitches:
        return state
    new = DraftPitch(sounding=draft.pitches[at].sounding)
    onsets = list(draft.onsets)
    if at < draft.timed:
        onset, end = onsets[at], draft.end_of(at)
        half = _half_way(onset.at, end, draft.meter.beat_length)
        if half is None:
            return replace(state, said=message("writing.no_room"))
        onsets[at : at + 1] = [DraftOnset(at=onset.at), DraftOnset(at=half, rest_at=onset.rest_at)]
    pitches = (*draft.pitches[: at + 1], new, *draft.pitches[at + 1 :])
    return replace(changed(state, replace(draft, pitches=pitches, onsets=tuple(onsets))), at=at + 1)


def _half_way(start: Fraction, end: Fraction, beat: Fraction) -> Fraction | None:
    """A place about the middle of a note, on the coarsest grid that has one; None in the shortest."""
    triplets = (end - start).denominator % 3 == 0
    for grid in (Fraction(1, 6), Fraction(1, 12)) if triplets else (beat, *_HALVES):
        places = [grid * number for number in range(int(start // grid) + 1, int(-(-end // grid)))]
        if places:
            return min(places, key=lambda place: (abs(2 * place - start - end), -place))
    return None
