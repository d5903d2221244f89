"""Notes as items: what is known of how surely and how fast a player reads each written note on a map.

An item is a written note, the way its accidental is shown, and its home on a map: F♯ under a signature is another item
than F♯ with a sharp before it. Of what was read the recent counts most: each new reading, and each day, leave only a
part of the older evidence. `item_estimate` tells what follows from it, `note_reads` what is evidence.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from game.coach.numbers import NUMBERS, CoachNumbers
from game.judging.expected import ExpectedNote
from game.judging.verdicts import Cause
from game.music.accidentals import AlteredBy
from game.music.clef import Clef
from game.music.score import Reading
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemKey:
    """Which item. `written` is the page's name for the note ("F#4"), `map_name` that of the map (`map_name`).

    `shown` is ACCIDENTAL wherever a sign is printed at the note, a courtesy sign too. `place` is its home: a home moved
    by hand makes a new item, and leaves all others of the map what they were. `sounding` is its MIDI number.
    """

    written: str
    shown: AlteredBy
    map_name: str
    place: Place
    sounding: int

    @property
    def clef(self) -> Clef:
        """The clef of its page: the map's name ends with how it is read (`map_name`)."""
        read = self.map_name.rpartition(", ")[2]
        return next((reading.clef for reading in Reading if reading.value == read), Clef.TREBLE)

    def __hash__(self) -> int:
        """Of what tells most items apart: years of practice are looked up by it a note at a time."""
        return hash((self.written, self.sounding, self.map_name))


class Item(NamedTuple):
    """The evidence about one item. Begin with `Item()`.

    `readings` counts all readings ever, `strayed` those at another place, `causes` the wrong ones whose cause could be
    told, in the order of `Cause`. The rest is discounted: `right` and `wrong` answers, and of the times to find their
    weight `timed`, the mean of their natural logarithm (s) and the sum of its squared deviations. `day` is that of the
    newest reading. A named tuple, because years of practice are folded through it a note at a time.
    """

    readings: int = 0
    right: float = 0.0
    wrong: float = 0.0
    timed: float = 0.0
    mean_log_s: float = 0.0
    squares: float = 0.0
    day: int = 0
    strayed: int = 0
    causes: tuple[tuple[Cause, int], ...] = ()


Items = Mapping[ItemKey, Item]
"""All that is known of a player's notes."""

UNREAD = Item()


def map_name(neck_map: NeckMap) -> str:
    """A name for a map by its position, strings and octave, whatever homes were chosen by hand."""
    strings = " ".join(map(str, neck_map.tuning.open_strings))
    return f"{roman(neck_map.position)}, {strings}, {neck_map.reading.value}"


def item_key(note: ExpectedNote, on_map: str) -> ItemKey | None:
    """The item of a note on the map of that name; None for a note without a home."""
    if note.home is None:
        return None
    shown = note.note.shown
    return ItemKey(
        written=note.note.pitch.name,
        shown=shown.altered_by if shown.sign is None else AlteredBy.ACCIDENTAL,
        map_name=on_map,
        place=note.home.place,
        sounding=note.sounding,
    )


def item_on_day(item: Item, day: int, numbers: CoachNumbers = NUMBERS) -> Item:
    """The item as it stands on `day`: its evidence fades by half in the half-life. An earlier day changes nothing."""
    days = day - item.day
    if days <= 0 or not item.readings:
        return item
    left: float = 0.5 ** (days / numbers.evidence_half_life_days)
    return item._replace(
        right=item.right * left,
        wrong=item.wrong * left,
        timed=item.timed * left,
        squares=item.squares * left,
        day=day,
    )


def read_right(item: Item, log_find_s: float | None, weight: float, numbers: CoachNumbers = NUMBERS) -> Item:
    """The item after it was read right once more. `log_find_s` is the natural logarithm of the seconds it took, None
    where they tell nothing; `weight` is 1, less where players mark themselves.
    """
    keeps = numbers.reading_keeps
    readings, right, wrong, timed, mean, squares, day, strayed, causes = item
    right, wrong = right * keeps + weight, wrong * keeps
    if log_find_s is not None:
        timed = timed * keeps + weight
        apart = log_find_s - mean
        mean += apart * weight / timed
        squares = squares * keeps + weight * apart * (log_find_s - mean)
    return Item(readings + 1, right, wrong, timed, mean, squares, day, strayed, causes)


def read_wrong(
    item: Item, cause: Cause | None, weight: float, numbers: CoachNumbers = NUMBERS, *, strayed: bool = False
) -> Item:
    """The item after it was read wrong or missed once more, or (`strayed`) taken at another place."""
    keeps = numbers.reading_keeps
    return item._replace(
        readings=item.readings + 1,
        right=item.right * keeps,
        wrong=item.wrong * keeps + weight,
        strayed=item.strayed + strayed,
        causes=item.causes if cause is None else _counted(item.causes, cause),
    )


def _counted(causes: tuple[tuple[Cause, int], ...], cause: Cause) -> tuple[tuple[Cause, int], ...]:
    counts = dict(causes)
    counts[cause] = counts.get(cause, 0) + 1
    return tuple((other, counts[other]) for other in Cause if other in counts)
