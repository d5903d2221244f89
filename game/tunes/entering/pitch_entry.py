"""Pitches as they are played: each is written behind the pencil, and taken back by it. Pure.

What an instrument tells first may be put right a moment later, or taken back, for a slide went on or a string only
rang along: the same note is then changed on the page.
"""

from dataclasses import replace

from game.message import message
from game.tunes.entering.draft import MOST_PITCHES, DraftPitch
from game.tunes.entering.entering import Entering, changed, within

# Notes nearer together than this are one stroke of the hand: of a chord the highest is the melody (trade).
TOGETHER_S = 0.05
# The same note again so soon is a string that was caught twice.
AGAIN_S = 0.09
LOWEST, HIGHEST = 21, 103


def heard(state: Entering, sounding: int, at_s: float) -> Entering:
    """A note was played, as a new one behind the pencil."""
    pitches = state.draft.pitches
    if not LOWEST <= sounding <= HIGHEST:
        return replace(state, said=message("writing.out_of_range"))
    if len(pitches) >= MOST_PITCHES:
        return replace(state, said=message("writing.too_many", count=MOST_PITCHES))
    last = pitches[state.at - 1] if state.at else None
    if last is not None and _is_one_stroke(last, sounding, at_s):
        said = message("writing.highest_of_chord") if sounding != last.sounding else None
        return replace(_with(state, state.at - 1, _of_stroke(last, (*last.heard, (sounding, at_s)))), said=said)
    new = DraftPitch(sounding=sounding, heard=((sounding, at_s),))
    draft = replace(state.draft, pitches=(*pitches[: state.at], new, *pitches[state.at :]))
    return replace(changed(state, draft), at=state.at + 1)


def _is_one_stroke(last: DraftPitch, sounding: int, at_s: float) -> bool:
    """Whether a note belongs to the one before: two strings at once, or one that was caught twice."""
    if not last.heard or at_s < last.heard[0][1]:
        return False
    again = any(number == sounding and at_s - before_s < AGAIN_S for number, before_s in last.heard)
    return again or at_s - last.heard[0][1] < TOGETHER_S


def _of_stroke(pitch: DraftPitch, heard: tuple[tuple[int, float], ...]) -> DraftPitch:
    """A pitch after its stroke was heard otherwise: the highest note of it stands."""
    return replace(pitch, sounding=max(number for number, _ in heard), heard=heard)


def _with(state: Entering, index: int, pitch: DraftPitch) -> Entering:
    """The state with another pitch in a place: no step to go back."""
    pitches = state.draft.pitches
    return replace(state, draft=replace(state.draft, pitches=(*pitches[:index], pitch, *pitches[index + 1 :])))


def played_over(state: Entering, sounding: int, at_s: float) -> Entering:
    """A note was played in the place of the one at the pencil."""
    pitches = list(state.draft.pitches)
    if not pitches or not LOWEST <= sounding <= HIGHEST:
        return state
    stood = pitches[state.at]
    pitches[state.at] = DraftPitch(sounding=sounding, heard=((sounding, at_s),), stood=stood.sounding)
    return changed(state, replace(state.draft, pitches=tuple(pitches)))


def revised(state: Entering, before: tuple[int, float], after: tuple[int, float] | None) -> Entering:
    """A note that was heard as `before`, its pitch and time, turns out to be `after`, or none at all."""
    pitches = state.draft.pitches
    index = next((i for i in range(len(pitches) - 1, -1, -1) if before in pitches[i].heard), None)
    if index is None:
        return state
    state = replace(state, said=None)
    told = {before: () if after is None else (after,)}
    heard_now = tuple(note for one in pitches[index].heard for note in told.get(one, (one,)))
    if heard_now:
        return _with(state, index, _of_stroke(pitches[index], heard_now))
    stood = pitches[index].stood
    if stood is not None:
        return _with(state, index, DraftPitch(sounding=stood))
    draft = replace(state.draft, pitches=(*pitches[:index], *pitches[index + 1 :]))
    return within(replace(state, draft=draft, at=state.at - 1 if index < state.at else state.at))


def taken_back(state: Entering, count: int = 1) -> Entering:
    """So many pitches before the pencil are rubbed out."""
    start = max(0, state.at - count)
    pitches = state.draft.pitches
    draft = replace(state.draft, pitches=(*pitches[:start], *pitches[state.at :]))
    return replace(changed(state, draft), at=start)


def respelled(state: Entering) -> Entering:
    """The note at the pencil in its other spelling, and back."""
    pitches = list(state.draft.pitches)
    if not pitches:
        return state
    pitches[state.at] = replace(pitches[state.at], respelled=not pitches[state.at].respelled)
    return changed(state, replace(state.draft, pitches=tuple(pitches)))
