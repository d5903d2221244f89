"""The passages of the tunes on the shelf, and how they stand with a player. Each tune is opened once."""

from bisect import bisect_right
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from game.coach.events import PageCutAnew
from game.coach.numbers import NUMBERS
from game.coach.plan.plan_steps import PassageStanding
from game.coach.record_update import record_on
from game.coach.records import PassageRecord
from game.coach.stage_steps import rhythm_comes_first
from game.coach.stages import Stage
from game.errors import HomefretError
from game.message import Message, message
from game.music.at_reading import at_reading
from game.music.passage import Passage, passages_of
from game.music.score import Reading, Score
from game.music.written import written_out
from game.neck.neck_map import NeckMap
from game.player.corrected_pages import CorrectedPage, corrected_pages
from game.player.new_pages import new_pages
from game.player.settings import Settings
from game.practice_log.rows.passage_key import passage_key
from game.tunes.library.corrected import as_before
from game.tunes.library.library import open_entry
from game.tunes.library.shelf_entry import ShelfEntry


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


class _TunePassages(NamedTuple):
    """The passages of a tune by their names, what is to be said of those that are others than before, where the pages
    of before stood that are none any more, and the pages that were corrected since.
    """

    now: list[tuple[str, ShelfPassage]]
    cut_anew: tuple[PageCutAnew, ...] = ()
    former: tuple[tuple[str, ShelfPassage], ...] = ()
    corrected: tuple[CorrectedPage, ...] = ()


class ShelfPassages:
    """The passages of whichever entries are asked about, as the player of `settings` reads them."""

    def __init__(self, settings: Callable[[], Settings]) -> None:
        self._settings = settings
        self._opened: dict[tuple[str, Reading, tuple[int, ...]], _TunePassages] = {}

    def forget(self, tune: str) -> None:
        """A tune is read in another order from now on."""
        self._opened = {which: found for which, found in self._opened.items() if which[0] != tune}

    def of(self, entry: ShelfEntry) -> list[tuple[str, ShelfPassage]]:
        """The passages of a tune by their names; of one that cannot be opened, none."""
        return self._of(entry, self._map).now

    def cut_anew(self, entries: Iterable[ShelfEntry]) -> Iterator[PageCutAnew]:
        """The passages of some tunes that are others than those of before."""
        neck_map = self._map
        for entry in entries:
            yield from self._of(entry, neck_map).cut_anew

    def corrected(self, entries: Iterable[ShelfEntry]) -> Iterator[CorrectedPage]:
        """The pages of some tunes that were corrected since they were first shipped."""
        neck_map = self._map
        for entry in entries:
            yield from self._of(entry, neck_map).corrected

    def by_name(self, entries: Iterable[ShelfEntry]) -> Mapping[str, ShelfPassage]:
        """The passages of some tunes by their names; those of before among them. Of bars that come twice in a tune the
        first ones are meant.
        """
        neck_map = self._map
        opened = [self._of(entry, neck_map) for entry in entries]
        former = {name: place for one in opened for name, place in one.former}
        return former | _once(passage for one in opened for passage in one.now)

    @property
    def _map(self) -> NeckMap:
        return self._settings().neck_map()

    def _of(self, entry: ShelfEntry, neck_map: NeckMap) -> _TunePassages:
        # The homes matter only where the page has to go into another clef.
        moved = entry.reading.clef is not neck_map.reading.clef
        which = (entry.name, neck_map.reading, tuple(neck_map.places) if moved else ())
        if which not in self._opened:
            self._opened[which] = _opened(entry, neck_map)
        return self._opened[which]

    def standings(
        self, entries: Iterable[ShelfEntry], records: Mapping[str, PassageRecord], day: int
    ) -> tuple[PassageStanding, ...]:
        """How the passages stand of those tunes that were practised; of bars not begun yet those that the map reaches.
        What was practised last comes last. Bars that come twice stand there once.
        """
        practised = {name: at for at, (name, record) in enumerate(records.items()) if record.practised_day is not None}
        if not practised:
            return ()
        settings = self._settings()
        neck_map, target_bpm = settings.neck_map(), settings.target_bpm
        homes, found = neck_map.places, []
        for entry in entries:
            passages = self._of(entry, neck_map).now
            if any(name in practised for name, _ in passages):
                reached = (
                    one for one in passages if one[0] in practised or not homes.keys().isdisjoint(one[1].soundings)
                )
                once = _once(reached).items()
                found += [
                    standing_of(name, place, records.get(name), homes, day, target_bpm=target_bpm)
                    for name, place in once
                ]
        return tuple(sorted(found, key=lambda one: practised.get(one.name, -1)))

    def was_met(self, entry: ShelfEntry, records: Container[str]) -> bool:
        """Whether any bars of a tune were on the desk before, under whatever name and on whichever computer."""
        opened = self._of(entry, self._map)
        return any(name in records for name, _ in (*opened.now, *opened.former))


def _once(passages: Iterable[tuple[str, ShelfPassage]]) -> dict[str, ShelfPassage]:
    """Each name with the first place where it stands."""
    found: dict[str, ShelfPassage] = {}
    for name, place in passages:
        found.setdefault(name, place)
    return found


def standing_of(
    name: str,
    place: ShelfPassage,
    record: PassageRecord | None,
    homes: Container[int],
    day: int,
    *,
    target_bpm: int | None,
) -> PassageStanding:
    """How a passage of the shelf stands on `day`, for a map with these `homes` and whoever has that target."""
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
        target_bpm=target_bpm,
        last_day=record.practised_day,
        half_day=record.sign_offs[-1].day if record.sign_offs else None,
        rhythm_kept=record.rhythm_day is not None,
        rhythm_first=rhythm_first,
        short=sum(sounding in homes for sounding in place.soundings) < NUMBERS.mark_notes,
        takes_today=record.takes_today if record.day == day else 0,
    )


def _opened(entry: ShelfEntry, neck_map: NeckMap) -> _TunePassages:
    reading, homes = neck_map.reading, neck_map.places
    try:
        score = written_out(at_reading(open_entry(entry), reading, homes))
        before = as_before(entry)
    except HomefretError:
        return _TunePassages([])
    # What was played of a tune before it was corrected, was played of the pages that it had then.
    then = score if before is None else written_out(at_reading(before, reading, homes))
    pages = _named(score)
    now = [(name, _placed(entry, index, page)) for index, (name, page) in enumerate(pages)]
    new = new_pages(then, _named(then))
    corrected = tuple(corrected_pages(then, score))
    gone = (*new.former, *((passage_key(page.was), page.was) for page in corrected if not page.was.whole))
    starts = [page.start for _, page in pages]
    former = ((name, _placed(entry, max(0, bisect_right(starts, page.start) - 1), page)) for name, page in gone)
    return _TunePassages(now, new.said, tuple(former), corrected)


def _named(score: Score) -> list[tuple[str, Passage]]:
    return [(passage_key(page), page) for page in passages_of(score)]


def _placed(entry: ShelfEntry, index: int, page: Passage) -> ShelfPassage:
    first, last = page.said_bars
    notes = page.notes
    return ShelfPassage(
        entry,
        index,
        message("passage.bars_of_tune", title=entry.title, first=first, last=last),
        tuple(note.sounding for note in notes),
        tuple(note.pitch.name for note in notes),
        len(page.bars),
    )
