"""The passages of the tunes on the shelf, and how they stand with a player. Each tune is opened once."""

from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import dataclass

from game.coach.numbers import NUMBERS
from game.coach.plan.plan_steps import PassageStanding
from game.coach.record_update import record_on
from game.coach.records import PassageRecord
from game.coach.stage_steps import rhythm_comes_first
from game.coach.stages import Stage
from game.errors import HomefretError
from game.message import Message, message
from game.music.at_reading import at_reading
from game.music.passage import passages_of
from game.music.score import Reading
from game.music.written import written_out
from game.player.settings import Settings
from game.practice_log.rows.passage_key import passage_key
from game.tunes.library.library import ShelfEntry, open_entry


@dataclass(frozen=True, slots=True)
class ShelfPassage:
    """Where a passage stands: the tune, the how-manieth of its passages, which pitches sound in it and how they are
    written, in order, and how many bars it has.
    """

    entry: ShelfEntry
    index: int
    title: Message
    soundings: tuple[int, ...]
    written: tuple[str, ...] = ()
    bars: int = 0


class ShelfPassages:
    """The passages of whichever entries are asked about, as the player of `settings` reads them."""

    def __init__(self, settings: Callable[[], Settings]) -> None:
        self._settings = settings
        self._passages_of: dict[tuple[str, Reading], list[tuple[str, ShelfPassage]]] = {}

    def forget(self, tune: str) -> None:
        """A tune is read in another order from now on."""
        self._passages_of = {which: found for which, found in self._passages_of.items() if which[0] != tune}

    def of(self, entry: ShelfEntry) -> list[tuple[str, ShelfPassage]]:
        """The passages of a tune by their names; of one that cannot be opened, none."""
        which = (entry.name, self._settings().neck_map().reading)
        if which not in self._passages_of:
            self._passages_of[which] = _opened(entry, which[1])
        return self._passages_of[which]

    def by_name(self, entries: Iterable[ShelfEntry]) -> Mapping[str, ShelfPassage]:
        """The passages of some tunes by their names."""
        return {name: place for entry in entries for name, place in self.of(entry)}

    def standings(
        self, entries: Iterable[ShelfEntry], records: Mapping[str, PassageRecord], day: int
    ) -> tuple[PassageStanding, ...]:
        """How the passages stand of those tunes that were practised; of bars not begun yet those that the map reaches.
        What was practised last comes last.
        """
        practised = {name: at for at, (name, record) in enumerate(records.items()) if record.practised_day is not None}
        if not practised:
            return ()
        homes, found = self._settings().neck_map().places, []
        for entry in entries:
            passages = self.of(entry)
            if any(name in practised for name, _ in passages):
                reached = (
                    one for one in passages if one[0] in practised or not homes.keys().isdisjoint(one[1].soundings)
                )
                found += [standing_of(name, place, records.get(name), homes, day) for name, place in reached]
        return tuple(sorted(found, key=lambda one: practised.get(one.name, -1)))

    def was_met(self, entry: ShelfEntry, records: Container[str]) -> bool:
        """Whether any bars of a tune were on the desk before, under whatever name and on whichever computer."""
        return any(name in records for name, _ in self.of(entry))


def standing_of(
    name: str, place: ShelfPassage, record: PassageRecord | None, homes: Container[int], day: int
) -> PassageStanding:
    """How a passage of the shelf stands on `day`, for a map with these `homes`."""
    if record is None or record.practised_day is None:
        return PassageStanding(name=name, title=place.title, tune=place.entry.name, place=place.index, last_day=None)
    rhythm_first = rhythm_comes_first(record_on(record, day))
    return PassageStanding(
        name=name,
        title=place.title,
        tune=place.entry.name,
        place=place.index,
        stage=Stage.RHYTHM if rhythm_first else record.stage,
        marks=record.marks,
        tempo_bpm=record.last_bpm,
        target_bpm=record.facts.target_bpm,
        last_day=record.practised_day,
        half_day=record.sign_offs[-1].day if record.sign_offs else None,
        rhythm_kept=record.rhythm_day is not None,
        rhythm_first=rhythm_first,
        short=sum(sounding in homes for sounding in place.soundings) < NUMBERS.mark_notes,
        takes_today=record.takes_today if record.day == day else 0,
    )


def _opened(entry: ShelfEntry, reading: Reading) -> list[tuple[str, ShelfPassage]]:
    try:
        score = written_out(at_reading(open_entry(entry), reading))
    except HomefretError:
        return []
    found = []
    for index, passage in enumerate(passages_of(score)):
        first, last = passage.said_bars
        title = message("passage.bars_of_tune", title=entry.title, first=first, last=last)
        notes = passage.notes
        place = ShelfPassage(
            entry,
            index,
            title,
            tuple(note.sounding for note in notes),
            tuple(note.pitch.name for note in notes),
            len(passage.bars),
        )
        found.append((passage_key(passage), place))
    return found
