"""What is said below the music while a tune is entered: what happened last, else what to do, or where the pencil is."""

from game.music.names import NoteNames, name_in, spelling_of
from game.text.catalogue import say, tell
from game.tunes.entering.draft_score import spellings
from game.tunes.entering.entering import Entering, EntryStep
from game.tunes.entering.place_words import chords_at, place_of


def status_in_words(state: Entering, names: NoteNames) -> str:
    """One line."""
    if state.said is not None:
        return tell(state.said)
    if state.run is not None:
        return say("writing.tapping")
    match state.step:
        case EntryStep.HEAD:
            return say("writing.begin_head")
        case EntryStep.PITCHES:
            count = len(state.draft.pitches)
            return say("writing.pitches", count=count) if count else say("writing.begin_pitches")
        case EntryStep.RHYTHM:
            return _rhythm(state)
        case EntryStep.PAGE:
            return _at_note(state, names)


def bar_number(bar: int) -> int:
    """The number of a bar as it is printed: 0 is the pickup bar."""
    return bar + 1


def _rhythm(state: Entering) -> str:
    draft = state.draft
    if draft.complete and state.bar_start >= draft.settled:
        return say("writing.rhythm_whole")
    key = "writing.begin_rhythm" if state.bar_start >= draft.settled or not draft.onsets else "writing.again_bar"
    return say(key, bar=bar_number(state.bar))


def _at_note(state: Entering, names: NoteNames) -> str:
    place = place_of(state)
    if place is None:
        return say("writing.begin_pitches")
    name = name_in(spelling_of(spellings(state.draft)[state.at]), names)
    bar = bar_number(state.draft.bar_of(place))
    chords = chords_at(state)
    return say("writing.at_note_chords" if chords else "writing.at_note", bar=bar, note=name, chords=chords)
