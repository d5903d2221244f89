"""The figures of one student, asked of a gathered class: the same questions as a log answers (`queries.figures`), and
the same records.

Shares, medians and faults are counted by the statements of `queries.figures_sql`, which a log is counted by, too: only
where a note stands is told here. Both databases have these statements; of words, whose order is each database's own,
nothing is put in order there.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import fields
from datetime import date
from functools import cached_property
from typing import Any
from uuid import UUID

from game.coach.notes.items import ItemKey, map_name
from game.coach.notes.map_identity import map_key
from game.coach.notes.slow_notes import SlowHome
from game.coach.stages import Stage
from game.judging.verdicts import Verdict
from game.music.accidentals import AlteredBy
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place
from game.practice_log.classes.class_queries import AskedClass, passage_take
from game.practice_log.classes.class_schema import CAUSES, NO_SHARE, RIGHT, TABLES, VERDICTS
from game.practice_log.classes.need import PassageTake
from game.practice_log.queries import figures_sql as sql
from game.practice_log.queries.figure_records import DayFigures, NoteFigures, PassageFigures, WentWrong
from game.practice_log.queries.figures import MOST_WRONG, days_between, note_figures, passage_figures
from game.practice_log.queries.how_held import HowHeld
from game.practice_log.queries.marked_takes import MarkedTake, marked_take_from
from game.practice_log.rows.take_rows import neck_map_from

_OF_DAY = tuple(field.name for field in fields(DayFigures) if field.name != "day")
_DAYS = f"SELECT day, {', '.join(_OF_DAY)} FROM day WHERE student = :student ORDER BY day"

_READ = """
FROM take
JOIN note ON note.student = take.student AND note.take = take.take
JOIN item ON item.student = note.student AND item.item = note.item
WHERE take.student = :student AND take.reading = 1 AND take.day > :after AND take.day <= :until
"""
_NOTES = sql.NOTES_OF.format(
    notes=f"""
SELECT item.sounding, item.written, item.string, item.fret,
    CASE WHEN note.verdict IN ({RIGHT}) THEN 1 ELSE 0 END AS is_right
{_READ} AND item.string IS NOT NULL AND note.verdict NOT IN ({NO_SHARE})
"""
)
_CAUSES = sql.CAUSES_OF.format(
    causes=f"SELECT item.written, item.string, item.fret, note.cause {_READ} "
    "AND item.string IS NOT NULL AND note.cause IS NOT NULL"
)
_MEDIANS = sql.MEDIANS_OF.format(
    found=f"SELECT item.written, item.string, item.fret, note.find_us / 1000.0 AS find_ms {_READ} "
    "AND note.find_us IS NOT NULL"
)
_IS_WRONG = ", ".join(str(VERDICTS[one]) for one in (Verdict.WRONG_PITCH, Verdict.OTHER_PLACE, Verdict.MISSED))
_WRONG_NOTES = f"""
    SELECT take.passage AS passage_key, note.n, take.day, take.place AS position, bars.title, note.bar, item.written,
        item.string, item.fret, note.verdict, note.played AS sounding, note.cause, take.octaves_down AS reading
    FROM take
    JOIN bars ON bars.student = take.student AND bars.bars = take.bars
    JOIN note ON note.student = take.student AND note.take = take.take
    JOIN item ON item.student = note.student AND item.item = note.item
    WHERE take.student = :student AND take.stage <> '{Stage.RHYTHM.value}' AND item.string IS NOT NULL
        AND note.verdict IN ({_IS_WRONG}) AND take.day > :after AND take.day <= :until
"""
_WRONG = sql.WRONG_OF.format(wrong=_WRONG_NOTES)
_WRONG_THERE = sql.WRONG_OF.format(wrong=f"{_WRONG_NOTES} AND take.passage = :passage")
_TAKES_OF = """
SELECT day, stage, tempo_bpm, notes, clean, in_time, clean_in_time FROM take
WHERE student = :student AND passage = :passage AND day <= :until AND tempo_bpm IS NOT NULL
ORDER BY place DESC LIMIT :most
"""
_PASSAGES = """
SELECT passage.passage, passage.passage_key, passage.title, passage.first, passage.last, passage.takes,
    passage.first_day, passage.last_day, passage.newest_bpm, passage.clean_bpm, passage.target_bpm, passage.read_day
FROM passage
JOIN (SELECT passage, MAX(place) AS newest FROM take WHERE student = :student GROUP BY passage) AS played
    ON played.passage = passage.passage
WHERE passage.student = :student ORDER BY played.newest DESC
"""
_MARKS = "SELECT passage, mark, day FROM mark WHERE student = :student ORDER BY passage, nth"
_MAP_COLUMNS = tuple(name for name, _ in TABLES["neck_map"])
_MAPS = f"SELECT {', '.join(_MAP_COLUMNS)} FROM neck_map WHERE student = :student ORDER BY map"
_SLOW = """
SELECT map, written, sounding, string, fret, find_s, cost_s, unsure, shown FROM slow_note
WHERE student = :student ORDER BY map, place
"""
_HELD = "SELECT left_handed, capo FROM held WHERE student = :student"
_MARKED = """
SELECT content FROM marked_take WHERE student = :student AND day > :after AND day <= :until ORDER BY nth
"""
_CAUSE_WORDS = {number: cause.value for cause, number in CAUSES.items()}
_VERDICT_WORDS = {number: verdict.value for verdict, number in VERDICTS.items()}


class ClassFigures:
    """The figures of a student, of whatever a class was gathered last. `asked` is a connection to it in either
    database. The same is asked but once: for a class that is gathered anew make another.
    """

    def __init__(self, asked: AskedClass, student: UUID) -> None:
        self._asked, self._student = asked, student.bytes
        self._found: dict[tuple[object, ...], list[Any]] = {}

    def days(self) -> tuple[DayFigures, ...]:
        """Every day of practice, oldest first."""
        return self._days

    @cached_property
    def _days(self) -> tuple[DayFigures, ...]:
        return tuple(
            DayFigures(day=date.fromisoformat(day), **dict(zip(_OF_DAY, figures, strict=True)))
            for day, *figures in self._rows(_DAYS)
        )

    def notes(self, until: date, days: int) -> tuple[NoteFigures, ...]:
        """The notes read in the days up to `until`, that day in, by pitch."""
        stretch = days_between(until, days)
        notes = sorted(self._rows(_NOTES, **stretch), key=lambda row: (row[5], *row[:4]))
        causes = [(*home, _CAUSE_WORDS[cause], times) for *home, cause, times in self._rows(_CAUSES, **stretch)]
        causes.sort(key=lambda row: (-row[4], row[3]))
        return note_figures(notes, causes, self._rows(_MEDIANS, **stretch))

    def passages(self) -> tuple[PassageFigures, ...]:
        """Every passage, the one played last first."""
        return tuple(self.numbered_passages().values())

    def numbered_passages(self) -> dict[int, PassageFigures]:
        """The same by their numbers in the class."""
        return self._numbered

    @cached_property
    def _numbered(self) -> dict[int, PassageFigures]:
        marks: defaultdict[int, list[tuple[str, date]]] = defaultdict(list)
        for passage, mark, day in self._rows(_MARKS):
            marks[passage].append((mark, date.fromisoformat(day)))
        return {
            number: passage_figures(row, marks[number], None if read_day is None else date.fromisoformat(read_day))
            for number, *row, read_day in self._rows(_PASSAGES)
        }

    def went_wrong(self, until: date, days: int, most: int = MOST_WRONG) -> tuple[WentWrong, ...]:
        """The notes that went wrong in the days up to `until`, the most frequent first, at most so many."""
        return _went_wrong(self._rows(_WRONG, most=most, **days_between(until, days)))

    def went_wrong_there(self, passage: int, until: date, days: int, most: int) -> tuple[WentWrong, ...]:
        """The same of one passage, by its number in the class."""
        return _went_wrong(self._rows(_WRONG_THERE, passage=passage, most=most, **days_between(until, days)))

    def timed_takes(self, passage: int, until: date, most: int) -> tuple[PassageTake, ...]:
        """The last takes of a passage against the click up to a day, that day in, at most so many, oldest first."""
        rows = self._rows(_TAKES_OF, passage=passage, until=until.isoformat(), most=most)
        return tuple(passage_take(*told) for told in reversed(rows))

    def maps(self) -> tuple[NeckMap, ...]:
        """The maps that takes were read on, the one of the newest take first; one of each that is the same to read."""
        return self._maps

    def newest_map(self) -> NeckMap | None:
        """The map of the newest take; None where there is none."""
        return next(iter(self._maps), None)

    def slow_notes(self, neck_map: NeckMap) -> tuple[SlowHome, ...]:
        """The slow notes of one of the maps, as the coach knows them; none of a map that is none of these."""
        keys = [map_key(one) for one in self._maps]
        number = keys.index(map_key(neck_map)) + 1 if map_key(neck_map) in keys else None
        return tuple(self._slow(number, map_name(neck_map)))

    def held(self) -> HowHeld:
        """How the instrument is held now."""
        left_handed, capo = next(iter(self._rows(_HELD)), (0, 0))
        return HowHeld(left_handed=bool(left_handed), capo=capo)

    def marked_takes(self, until: date, days: int) -> Iterator[MarkedTake]:
        """The takes with the most pencil marks of those that were kept, in the days up to `until`: the first is that of
        all takes of these days, where they are a week that ends with the last day of practice or later.
        """
        stretch = days_between(until, days)
        for (content,) in self._rows(_MARKED, after=stretch["after"], until=stretch["until"]):
            yield marked_take_from(content)

    @cached_property
    def _maps(self) -> tuple[NeckMap, ...]:
        return tuple(neck_map_from(dict(zip(_MAP_COLUMNS, row, strict=True))) for row in self._rows(_MAPS))

    def _slow(self, number: int | None, name: str) -> Iterator[SlowHome]:
        for of_map, written, sounding, string, fret, find_s, cost_s, unsure, shown in self._rows(_SLOW):
            if of_map == number:
                key = ItemKey(
                    written=written,
                    shown=AlteredBy(shown),
                    map_name=name,
                    place=Place(string, fret),
                    sounding=sounding,
                )
                yield SlowHome(key=key, find_s=find_s, cost_s=cost_s, unsure=bool(unsure))

    def _rows(self, statement: str, **values: Any) -> list[Any]:
        asked = (statement, *sorted(values.items()))
        if asked not in self._found:
            self._found[asked] = self._asked.execute(statement, {"student": self._student, **values}).fetchall()
        return self._found[asked]


def _went_wrong(rows: Iterable[Any]) -> tuple[WentWrong, ...]:
    return tuple(
        WentWrong(
            day=date.fromisoformat(day),
            title=title,
            bar=bar,
            written=written,
            string=string,
            fret=fret,
            verdict=_VERDICT_WORDS[verdict],
            played=played,
            cause=None if cause is None else _CAUSE_WORDS[cause],
            octaves_down=octaves_down,
            times=int(times),
        )
        for day, title, bar, written, string, fret, verdict, played, cause, octaves_down, times in rows
    )
