"""The ink of the map that is set, as it is drawn: each note and each place filled as far as it has come."""

from typing import Final

from game.coach.notes.ink import Ink
from game.coach.notes.ink_of_map import InkCounts, InkedPitch
from game.desk.kit.note_fill import Fill, FilledNote, FilledPlace
from game.music.names import name_in, spelling_of
from game.music.pitch import pitch
from game.neck.neck_map import NeckMap
from game.screens.context import ScreenContext
from game.screens.ink_drawing import InkSheet
from game.text.catalogue import say

_FILLS: Final = {Ink.NOT_MET: Fill.EMPTY, Ink.PENCIL: Fill.PENCIL, Ink.INK: Fill.INK, Ink.DUE: Fill.DUE}


def ink_sheet(context: ScreenContext, *, new_on: int | None = None, neck_map: NeckMap | None = None) -> InkSheet:
    """The ink of a map, of that which is set where none is told; what became ink on the day `new_on` is ringed."""
    settings, notes = context.settings, context.session.notes
    neck_map = neck_map or settings.neck_map()
    ink = notes.ink(neck_map)
    new = {one.sounding for one in ink.new_on(new_on)} if new_on is not None else set()
    shown = [one for one in ink.pitches if _is_shown(one)]
    frets = [home.place.fret for home in neck_map.homes]
    return InkSheet(
        notes=tuple(FilledNote(one.shown.written, _FILLS[one.shown.ink], one.sounding in new) for one in shown),
        places=tuple(_place(one, context, ringed=one.sounding in new) for one in ink.pitches),
        first=max(0, min(frets, default=1) - 1),
        last=max(frets, default=neck_map.position + 3),
        position=neck_map.position,
        strings=len(neck_map.tuning.open_strings),
        left_handed=settings.left_handed,
        capo=settings.capo_in_use,
        reading=neck_map.reading,
        second=neck_map.second.position if neck_map.second else None,
        span=neck_map.hand.span,
        **_counted(ink.counts),
    )


def filled_notes(context: ScreenContext, written: tuple[str, ...], *, new_on: int) -> tuple[FilledNote, ...]:
    """Written notes as far as their pitches have come; those new in ink on the day `new_on` are ringed. What the map
    does not reach is not met.
    """
    neck_map = context.settings.neck_map()
    ink = context.session.notes.ink(neck_map)
    fills = {one.sounding: _FILLS[one.ink] for one in ink.pitches}
    new = {one.sounding for one in ink.new_on(new_on)}
    lower = 12 * neck_map.reading.octaves_down
    sounding = {name: pitch(name).midi - lower for name in written}
    return tuple(FilledNote(name, fills.get(sounding[name], Fill.EMPTY), sounding[name] in new) for name in written)


def _is_shown(one: InkedPitch) -> bool:
    """Notes with an accidental stand on the staff once they were met."""
    return not pitch(one.shown.written).alter or one.shown.ink is not Ink.NOT_MET


def _place(one: InkedPitch, context: ScreenContext, *, ringed: bool) -> FilledPlace:
    fill = _FILLS[one.ink]
    name = name_in(spelling_of(pitch(one.shown.written)), context.settings.note_names)
    return FilledPlace(one.place.string, one.place.fret, fill, "" if fill is Fill.EMPTY else name, ringed)


def _counted(counts: InkCounts) -> dict[str, str]:
    return {
        "in_ink": say("ink.in_ink", count=counts.ink),
        "in_pencil": say("ink.in_pencil", count=counts.pencil),
        "not_met": say("ink.not_met", count=counts.not_met),
    }
