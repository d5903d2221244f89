"""Why each step of today's plan: one plain sentence each, as a key of the text catalogue with its values."""

from collections.abc import Sequence

from game.coach.marks import Mark
from game.coach.notes.items import ItemKey
from game.coach.plan.plan_steps import PassageStanding
from game.message import Message, message
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import pitch
from game.music.tune_kind import TuneKind

WARM_UP_NEW = message("plan.warm_up_new")
LINE_AT_SIGHT = message("plan.line_at_sight")
NOTES_HARDLY_MET = message("plan.notes_hardly_met")
REST = message("plan.rest")
RHYTHM_FIRST = message("plan.rhythm_first")
FIVE_NOTES = message("plan.five_notes")
HEARD_WHOLE = message("plan.heard_whole")
FREE_READING = message("plan.free_reading")

_NAMED_MOST = 3


def note_at(key: ItemKey, names: NoteNames) -> Message:
    """A note as the player calls it, with its home: "C♯ on string 1, fret 9"."""
    return message("note.at_place", note=_name(key, names), string=key.place.string, fret=key.place.fret)


def _name(key: ItemKey, names: NoteNames) -> str:
    return name_in(spelling_of(pitch(key.written)), names)


def warm_up(due: Sequence[ItemKey], slow: Sequence[ItemKey], names: NoteNames) -> Message:
    """Why these notes: they are due, or slow."""
    if len(due) > 1:
        return message("plan.warm_up_due_and_more", note=note_at(due[0], names), count=len(due) - 1)
    if due:
        return message("plan.warm_up_due", note=note_at(due[0], names))
    if slow:
        return message("plan.warm_up_slow", notes=_row(slow, names))
    return WARM_UP_NEW


def slow_notes(slow: Sequence[tuple[ItemKey, float]], names: NoteNames) -> Message:
    """Why these notes, the slowest with its seconds to find."""
    if not slow:
        return NOTES_HARDLY_MET
    (first, find_s), *others = slow
    slowest = note_at(first, names)
    if not others:
        return message("plan.slow_note", note=slowest, seconds=find_s)
    row = _row([key for key, _ in others], names)
    return message("plan.slow_notes", note=slowest, seconds=find_s, notes=row)


def tune_at_sight(title: str) -> Message:
    """Why a tune of the library at first sight."""
    return message("plan.tune_at_sight", title=title)


def passage(standing: PassageStanding) -> Message:
    """Why this passage: how far it has come."""
    title, bpm, target_bpm = standing.title, standing.tempo_bpm, standing.target_bpm
    if standing.last_day is None or standing.rhythm_first:
        return RHYTHM_FIRST if standing.rhythm_first else message("plan.next_bars", passage=title)
    if standing.half_day is not None and Mark.SIGNED_OFF not in standing.marks and target_bpm:
        return message("plan.sign_off_due", passage=title, target_bpm=target_bpm)
    if Mark.IN_TIME in standing.marks and bpm and target_bpm:
        if bpm >= target_bpm:
            return message("plan.passage_at_target", passage=title)
        return message("plan.passage_on_the_way", passage=title, bpm=bpm, target_bpm=target_bpm)
    if Mark.FOUND in standing.marks:
        return message("plan.passage_found", passage=title)
    return message("plan.passage_left_off", passage=title)


def new_tune(title: str, kind: TuneKind = TuneKind.SONG) -> Message:
    """Why a new tune."""
    return message("plan.new_lead_sheet" if kind is TuneKind.LEAD_SHEET else "plan.new_tune", title=title)


def course(title: str) -> Message:
    """Why these bars: they are the next ones of a course."""
    return message("plan.course", title=title)


def signed_off(standing: PassageStanding, *, is_due: bool) -> Message:
    """Why this one to end with."""
    return message("plan.signed_off_due" if is_due else "plan.signed_off", passage=standing.title)


def _row(keys: Sequence[ItemKey], names: NoteNames) -> tuple[str, ...]:
    """The notes as the player calls them, as many as are named."""
    return tuple(_name(key, names) for key in keys[:_NAMED_MOST])
