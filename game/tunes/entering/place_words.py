"""What is written above a note: a chord symbol, a repeat sign or an ending, as one types it. Pure.

A chord symbol ("Gm7", "Bb7/D", "N.C.") takes the place of those that stand over the note; several share its time, and
"-" takes them away. "|:" and ":|" begin and end a repeat with the bar, "1." and "2." put it under an ending; written
again they go.
"""

from dataclasses import replace
from fractions import Fraction

from game.message import message
from game.tunes.abc.chord_text import chord_of
from game.tunes.chord_places import shared_places
from game.tunes.entering.draft import BarSigns, Draft
from game.tunes.entering.draft_score import open_from
from game.tunes.entering.entering import Entering, changed

LONGEST = 24
_NO_CHORD = "-"
_ENDINGS = {"1": 1, "1.": 1, "2": 2, "2.": 2}


def written_above(state: Entering, text: str) -> Entering:
    """The state with `text` at the note under the pencil; what cannot be read is said, and changes nothing."""
    text = " ".join(text.split())
    draft, place = state.draft, place_of(state)
    if not text or place is None:
        return replace(state, said=None)
    if state.at >= draft.timed:
        # Where it stands is not known before its rhythm is.
        return replace(state, said=message("writing.no_rhythm_yet"))
    bar = draft.bar_of(place)
    signs = _with_sign(draft.signs_of(bar), text)
    if signs is not None:
        return changed(state, draft.with_signs(bar, signs))
    end = _end_of(draft, state.at, place)
    others = tuple(chord for chord in draft.chords if not place <= chord.onset < end)
    if text == _NO_CHORD:
        return changed(state, replace(draft, chords=others))
    words = text.split()
    line = draft.bar_start(bar)
    ahead = max(Fraction(0), line - bar * draft.meter.bar_length)
    places = shared_places(len(words), place - line, end - line, draft.meter, ahead=ahead)
    chords = [chord_of(word[:1].upper() + word[1:], line + at) for word, at in zip(words, places, strict=True)]
    unread = next((word for word, chord in zip(words, chords, strict=True) if chord is None), None)
    if unread is not None:
        return replace(state, said=message("writing.no_chord", text=unread))
    both = (*others, *(chord for chord in chords if chord is not None))
    return changed(state, replace(draft, chords=tuple(sorted(both, key=lambda one: one.onset))))


def chords_at(state: Entering) -> str:
    """The chord symbols over the note under the pencil, empty for none."""
    place = place_of(state)
    if place is None:
        return ""
    end = _end_of(state.draft, state.at, place)
    return " ".join(chord.text for chord in state.draft.chords if place <= chord.onset < end)


def place_of(state: Entering) -> Fraction | None:
    """When the note under the pencil begins, on the page as it is; None without notes."""
    draft = state.draft
    if not draft.pitches:
        return None
    if state.at < draft.timed:
        return draft.onsets[state.at].at
    return open_from(draft) + (state.at - draft.timed) * draft.meter.beat_length


def _end_of(draft: Draft, at: int, place: Fraction) -> Fraction:
    """Where the next note begins: a rest after the note belongs to it here."""
    if at + 1 < len(draft.onsets):
        return draft.onsets[at + 1].at
    return max(draft.settled, place)


def _with_sign(signs: BarSigns, text: str) -> BarSigns | None:
    """The signs with the one that is written, or without it; None for what is no sign."""
    if text == "|:":
        return replace(signs, repeat_start=not signs.repeat_start)
    if text == ":|":
        return replace(signs, repeat_end=not signs.repeat_end)
    if text in _ENDINGS:
        ending = _ENDINGS[text]
        return replace(signs, ending=0 if signs.ending == ending else ending)
    return None
