"""The state of a tune being entered, and what every step of it may do: say what happened, and go back. Pure.

Each step is a module of functions from a state and what was done to the next state, which says what happened.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction

from game.message import Message
from game.tunes.entering.draft import Draft
from game.tunes.entering.tapped_rhythm import TapRun

MOST_STEPS_BACK = 100


class EntryStep(Enum):
    """What is entered: the head of the page, the pitches, the rhythm; then the page is corrected."""

    HEAD = "head"
    PITCHES = "pitches"
    RHYTHM = "rhythm"
    PAGE = "page"

    @property
    def following(self) -> "EntryStep":
        """The step after it, the first after the last."""
        steps = list(EntryStep)
        return steps[(steps.index(self) + 1) % len(steps)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entering:
    """A tune being entered.

    `at` is the place of the pencil: before which pitch the next one comes in `PITCHES`, on which note in `PAGE`; `bar`
    is the one to be tapped next. `run` are the taps of now. `before` are the drafts of before, to go back to. `said` is
    what happened last, None for what the page shows by itself.
    """

    draft: Draft
    step: EntryStep = EntryStep.HEAD
    at: int = 0
    bar: int = 0
    run: TapRun | None = None
    before: tuple[Draft, ...] = ()
    said: Message | None = None

    @property
    def bar_start(self) -> Fraction:
        """Where the bar to be tapped next begins."""
        return self.draft.bar_start(self.bar)


def opened(draft: Draft) -> Entering:
    """A draft taken up where it was left."""
    if not draft.pitches:
        return Entering(draft=draft)
    step = EntryStep.PAGE if draft.complete else EntryStep.RHYTHM if draft.onsets else EntryStep.PITCHES
    return in_step(Entering(draft=draft), step)


def in_step(state: Entering, step: EntryStep) -> Entering:
    """The same draft in another step, the pencil where it is needed there. Without pitches there is nothing to tap."""
    draft = state.draft
    if not draft.pitches and step in (EntryStep.RHYTHM, EntryStep.PAGE):
        step = EntryStep.HEAD if state.step is EntryStep.PITCHES else EntryStep.PITCHES
    at = len(draft.pitches) if step is EntryStep.PITCHES else 0
    return replace(state, step=step, at=at, bar=open_bar(draft), run=None, said=None)


def open_bar(draft: Draft) -> int:
    """The first bar without a rhythm: -1 is the pickup bar."""
    return draft.bar_of(draft.settled if draft.onsets else draft.start)


def changed(state: Entering, draft: Draft, said: Message | None = None) -> Entering:
    """Another draft, and a way back."""
    if draft == state.draft:
        return replace(state, said=said)
    return replace(state, draft=draft, before=(*state.before, state.draft)[-MOST_STEPS_BACK:], said=said)


def gone_back(state: Entering) -> Entering:
    """The draft before the last change; the pencil stays as near as it can."""
    if not state.before:
        return replace(state, said=None)
    draft = state.before[-1]
    return within(replace(state, draft=draft, before=state.before[:-1], bar=open_bar(draft), said=None))


def moved(state: Entering, by: int) -> Entering:
    """The pencil moved along the notes, or to another bar in `RHYTHM`."""
    if state.step is EntryStep.RHYTHM:
        return within(replace(state, bar=state.bar + by, said=None))
    return within(replace(state, at=state.at + by, said=None))


def pencil_at(state: Entering, pitch: int) -> Entering:
    """The pencil at a note, behind it where pitches are entered, or at its bar."""
    draft = state.draft
    if state.step is EntryStep.RHYTHM:
        return replace(state, bar=draft.bar_of(draft.onsets[pitch].at)) if pitch < draft.timed else state
    return replace(state, at=pitch + 1 if state.step is EntryStep.PITCHES else pitch, said=None)


def within(state: Entering) -> Entering:
    """The pencil where there is something."""
    notes = len(state.draft.pitches)
    last = notes if state.step is EntryStep.PITCHES else max(0, notes - 1)
    first_bar = -1 if state.draft.pickup else 0
    bar = max(first_bar, min(state.bar, open_bar(state.draft)))
    return replace(state, at=max(0, min(state.at, last)), bar=bar)


def with_draft(state: Entering, change: Callable[[Draft], Draft]) -> Entering:
    """The head of the page changed."""
    return within(changed(state, change(state.draft)))
