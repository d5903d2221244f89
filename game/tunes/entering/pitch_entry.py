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
    since_s = float("inf") if last is None or last.heard_s is None else at_s - last.heard_s
    if last is not None and 0 <= since_s < AGAIN_S and last.sounding == sounding:
        return replace(state, said=None)
    if last is not None and 0 <= since_s < TOGETHER_S:
        return _of_chord(state, last, sounding)
    new = DraftPitch(sounding=sounding, heard_s=at_s)
    draft = replace(state.draft, pitches=(*pitches[: state.at], new, *pitches[state.at :]))
    return replace(changed(state, draft), at=state.at + 1)


def _of_chord(state: Entering, last: DraftPitch, sounding: int) -> Entering:
    """Two strings at once, by mistake or for the sound of it."""
    said = message("writing.highest_of_chord")
    if sounding < last.sounding:
        return replace(state, said=said)
    pitches = list(state.draft.pitches)
    pitches[state.at - 1] = replace(last, sounding=sounding)
    return replace(state, draft=replace(state.draft, pitches=tuple(pitches)), said=said)


def played_over(state: Entering, sounding: int, at_s: float) -> Entering:
    """A note was played in the place of the one at the pencil."""
    pitches = list(state.draft.pitches)
    if not pitches or not LOWEST <= sounding <= HIGHEST:
        return state
    stood = pitches[state.at]
    pitches[state.at] = DraftPitch(sounding=sounding, heard_s=at_s, stood=stood.sounding)
    return changed(state, replace(state.draft, pitches=tuple(pitches)))


def revised(state: Entering, before: tuple[int, float], after: int | None) -> Entering:
    """A note that was heard as `before`, its pitch and time, turns out to be `after`, or none at all."""
    pitches = list(state.draft.pitches)
    index = next((i for i in range(len(pitches) - 1, -1, -1) if _is(pitches[i], before)), None)
    if index is None:
        return state
    if after is not None:
        pitches[index] = replace(pitches[index], sounding=after)
        return replace(state, draft=replace(state.draft, pitches=tuple(pitches)))
    stood = pitches[index].stood
    if stood is not None:
        pitches[index] = DraftPitch(sounding=stood)
        return replace(state, draft=replace(state.draft, pitches=tuple(pitches)))
    del pitches[index]
    at = state.at - 1 if index < state.at else state.at
    return within(replace(state, draft=replace(state.draft, pitches=tuple(pitches)), at=at))


def _is(pitch: DraftPitch, before: tuple[int, float]) -> bool:
    return pitch.heard_s == before[1] and pitch.sounding == before[0]


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
