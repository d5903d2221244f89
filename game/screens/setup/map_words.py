"""What the map says in words: of a note and its places, of what a position gives up, and of what a change moves."""

from collections.abc import Iterable

from game.coach.notes.ink_of_map import InkedPitch
from game.message import Message, message
from game.music.clef import Clef
from game.music.keys import Key, spelled
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import Pitch, pitch
from game.neck.neck_map import NeckMap, Reach
from game.neck.tuning import Place
from game.screens.setup.map_shelf import MoveCost
from game.text.catalogue import say
from game.tunes.library.shelf_entry import ShelfEntry

_FINGERS = 4


def named(sounding: int, neck_map: NeckMap, names: NoteNames) -> str:
    """A pitch as it is written most plainly, without its octave."""
    return name_in(spelling_of(plainly_written(sounding, neck_map)), names)


def note_and_line(written: Pitch, names: NoteNames, clef: Clef = Clef.TREBLE) -> str:
    """A written note and where on the staff it stands: "B, on the third line"."""
    return say("map.note_stands", note=name_in(spelling_of(written), names), where=_where(written.staff_step, clef))


def ink_told(found: InkedPitch, names: NoteNames) -> str:
    """How far a written note has come, and its other spellings, each by itself: G♭ is not F♯."""
    others = tuple(
        message(f"map.spelling.{one.ink.value}", note=name_in(spelling_of(pitch(one.written)), names))
        for one in found.spellings
        if one != found.shown
    )
    said = say(f"map.ink.{found.shown.ink.value}")
    return f"{said} {say('map.also_written', notes=others)}" if others else said


def place_told(kind: str, place: Place, **values: str) -> str:
    """A place in a sentence, which is said otherwise of an open string: "Home: string 3, fret 4."."""
    open_string = "_open" if place.fret == 0 else ""
    return say(f"map.place.{kind}{open_string}", **values, string=place.string, fret=place.fret)


def reach_told(place: Place, neck_map: NeckMap) -> str:
    """Which finger plays a place, or how the hand gets there."""
    return say(f"map.reach_{reach_kind(place, neck_map)}")


def reach_kind(place: Place, neck_map: NeckMap) -> str:
    """How the hand takes a place: "finger.1" to "finger.4", "back", "on", "open" or "shift"."""
    if place.fret == 0:
        return "open"
    hand = neck_map.hand
    regions = neck_map.regions_for(neck_map.tuning.sounding(place))
    for position in regions:
        if place.fret in hand.under_fingers(position):
            return f"finger.{min(place.fret - position + 1, _FINGERS)}"
        if hand.lowest_fret(position) <= place.fret < position:
            return "back"
        if position < place.fret <= hand.highest_fret(position):
            return "on"
    return "shift"


def cost_told(cost: MoveCost, neck_map: NeckMap) -> str:
    """What it would cost to make a place the home, whole: how it is reached, how often, and what it does to all the
    movement.
    """
    kind = reach_kind(cost.place, neck_map)
    parts = [say(f"map.cost.{kind}")]
    if not cost.times:
        parts.append(say("map.cost.never"))
        return " ".join(parts)
    if cost.reach_now is None:
        parts.append(say("map.cost.homes", count=cost.times))
    elif cost.reach is not cost.reach_now:
        parts += [say(f"map.cost.{one}", count=cost.times) for one in _changes(cost.reach, cost.reach_now)]
    percent = round(100 * abs(cost.growth))
    more = "more" if cost.growth > 0 else "less"
    parts.append(say(f"map.cost.{more}", percent=percent) if percent else say("map.cost.as_much"))
    return " ".join(parts)


def row_told(cost: MoveCost, neck_map: NeckMap) -> tuple[str, ...]:
    """A place and what it costs in a few words, the longest first: "string 4, fret 9: reaches on, 14 times"."""
    kind, place = reach_kind(cost.place, neck_map), cost.place
    how = [say(f"map.how.{kind}")]
    if cost.times and kind in _AWKWARD:
        how.insert(0, say("map.how_often", how=how[0], count=cost.times))
    return tuple(place_told("row", place, how=one) for one in how)


_AWKWARD = ("back", "on", "shift")


def _changes(reach: Reach, now: Reach) -> Iterable[str]:
    if reach is Reach.STRETCH:
        yield "more_stretches"
    elif now is Reach.STRETCH:
        yield "fewer_stretches"
    if reach is Reach.OUTLYING:
        yield "more_shifts"
    elif now is Reach.OUTLYING:
        yield "fewer_shifts"


def given_up(neck_map: NeckMap, names: NoteNames) -> str:
    """What the position gives up and which notes are awkward in it, counted on the map itself."""
    told = []
    if what := tuple(_given_up(neck_map, names)):
        told.append(say("map.gives_up", what=what))
    if stretches := sum(home.reach is Reach.STRETCH for home in neck_map.homes):
        told.append(say("map.stretches", count=stretches))
    if outlying := sum(home.reach is Reach.OUTLYING for home in neck_map.homes):
        told.append(say("map.outlying", count=outlying))
    return " ".join(told)


def _given_up(neck_map: NeckMap, names: NoteNames) -> Iterable[Message]:
    homes, strings = neck_map.places, neck_map.tuning.open_strings
    lowest, highest = min(homes), max(homes)
    if not any(place.fret == 0 for place in homes.values()):
        yield message("map.gives_up_open")
    if below := lowest - min(strings):
        yield message("map.gives_up_below", count=below, note=named(lowest, neck_map, names))
    if between := sum(sounding not in homes for sounding in range(lowest, highest)):
        yield message("map.gives_up_between", count=between)
    if max(strings) + neck_map.frets > highest:
        yield message("map.gives_up_above", note=named(highest, neck_map, names))


def notes_moved(before: NeckMap, after: NeckMap, entries: Iterable[ShelfEntry]) -> int:
    """How many notes of the shelf have another home after a change, or one at last, or none any more."""
    homes, others = before.places, after.places
    moved = {sounding for sounding in homes | others if homes.get(sounding) != others.get(sounding)}
    return sum(
        count for entry in entries for sounding, count in entry.sounding(after.reading, others) if sounding in moved
    )


def plainly_written(sounding: int, neck_map: NeckMap) -> Pitch:
    """The written note of a sounding pitch, as it is spelled most plainly."""
    return spelled(sounding + 12 * neck_map.reading.octaves_down, Key())


def _where(staff_step: int, clef: Clef) -> Message:
    """Which line or space of the staff, from the lowest up, or how far beyond it in ledger lines."""
    steps = staff_step - clef.bottom_step
    if 0 <= steps <= 8:
        kind = "space" if steps % 2 else "line"
        return message(f"map.on_{kind}.{steps // 2 + 1}")
    side, beyond = ("below", -steps) if steps < 0 else ("above", steps - 8)
    ledgers = beyond // 2
    if not ledgers:
        return message(f"map.just_{side}")
    return message(f"map.ledger_{side}" if beyond % 2 == 0 else f"map.beyond_ledger_{side}", count=ledgers)
