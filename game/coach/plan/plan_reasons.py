"""Why each step of today's plan: one plain sentence each. All of them stand here."""

from collections.abc import Sequence

from game.coach.marks import Mark
from game.coach.notes.items import ItemKey
from game.coach.plan.plan_steps import PassageStanding
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import pitch

WARM_UP_NEW = "A few notes to begin with, pitch only."
LINE_AT_SIGHT = "A line nobody has played before, while you are fresh: once through, and keep going."
NOTES_TO_KNOW = "Notes of this map you have hardly met yet."
ANY_PASSAGE = "Four bars of this line, from the places to the metronome."
REST = "Five minutes away from the instrument, for hands and ears."

_NAMED_MOST = 3


def note_at(key: ItemKey, names: NoteNames) -> str:
    """A note as the player calls it, with its home: "C♯ on string 1, fret 9"."""
    return f"{_name(key, names)} on string {key.place.string}, fret {key.place.fret}"


def _name(key: ItemKey, names: NoteNames) -> str:
    return name_in(spelling_of(pitch(key.written)), names)


def warm_up(due: Sequence[ItemKey], slow: Sequence[ItemKey], names: NoteNames) -> str:
    """Why these notes: they are due, or slow."""
    if due:
        more = f" and {len(due) - 1} more" if len(due) > 1 else ""
        return f"To warm up: {note_at(due[0], names)}{more}, before you forget."
    if slow:
        return f"To warm up, pitch only: {_row(slow, names)}."
    return WARM_UP_NEW


def slow_notes(slow: Sequence[tuple[ItemKey, float]], names: NoteNames) -> str:
    """Why these notes, the slowest with its seconds to find."""
    if not slow:
        return NOTES_TO_KNOW
    (first, find_s), *others = slow
    after = f", then {_row([key for key, _ in others], names)}" if others else ""
    return f"{note_at(first, names)} takes you longest, {find_s:.1f} s{after}."


def tune_at_sight(title: str) -> str:
    """Why a tune of the library at first sight."""
    return f"You have never met {title}: once through, and keep going."


def passage(standing: PassageStanding) -> str:
    """Why this passage: how far it has come."""
    if Mark.IN_TIME in standing.marks and standing.tempo_bpm and standing.target_bpm:
        if standing.tempo_bpm >= standing.target_bpm:
            return f"{standing.title}: at its target tempo, ready to be signed off."
        return f"{standing.title}: at {standing.tempo_bpm} now, on the way to {standing.target_bpm}."
    if Mark.FOUND in standing.marks:
        return f"{standing.title}: every note is found; now in time."
    return f"{standing.title}: where you left off."


def new_tune(title: str) -> str:
    """Why a new tune."""
    return f"Something new: {title}, pitch only."


def signed_off(standing: PassageStanding, *, is_due: bool) -> str:
    """Why this one to end with."""
    if is_due:
        return f"To end with, played whole: {standing.title}, before it slips away."
    return f"To end with, played whole: {standing.title}, which you can play."


def _row(keys: Sequence[ItemKey], names: NoteNames) -> str:
    named = [_name(key, names) for key in keys[:_NAMED_MOST]]
    return named[0] if len(named) == 1 else f"{', '.join(named[:-1])} and {named[-1]}"
