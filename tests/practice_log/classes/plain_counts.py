"""The numbers of a class counted as plainly as can be, twice: from the documents of the exports, in Python that knows
nothing of the program's own sums; and from the takes and notes of the gathered tables, in SQL that SQLite and
PostgreSQL both have.
"""

import hashlib
import json
import tomllib
import zipfile
from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from functools import cache
from math import sqrt
from pathlib import Path

RIGHT = {"clean", "early", "late"}
NO_SHARE = {"unread", "unsure"}
WRONG = {"wrong pitch", "other place", "missed"}
LONGEST_TAKE_MIN = 10.0
LONGEST_SEARCH_MS = 10_000.0


@dataclass
class PlainTake:
    """A take with what was made of it, and how the student met it."""

    day: date
    key: tuple
    passage: str
    title: str
    stage: str
    bpm: float | None
    minutes: float
    reading: bool
    verdicts: list[str]
    causes: list[str | None]
    find_ms: list[float | None]
    written: list[tuple[str, int | None, int | None]]
    soundings: list[int]
    bars: list[str]
    answered: list[int | None]

    @property
    def counted(self) -> list[int]:
        return [
            at
            for at, verdict in enumerate(self.verdicts)
            if self.written[at][1] is not None and verdict not in NO_SHARE
        ]

    @property
    def notes(self) -> int:
        return len(self.counted)

    @property
    def clean(self) -> int:
        return sum(self.verdicts[at] in RIGHT for at in self.counted)

    @property
    def in_time(self) -> int:
        return sum(self.verdicts[at] == "clean" for at in self.counted)

    @property
    def found(self) -> dict[int, float]:
        """Seconds of each note that had to be looked for, by where it stands, where that tells something."""
        if not self.reading or self.stage != "places":
            return {}
        times = {
            at: (self.verdicts[at], self.find_ms[at])
            for at in self.counted
            if at and self.soundings[at] != self.soundings[at - 1]
        }
        return {
            at: ms / 1000 for at, (verdict, ms) in times.items() if verdict in RIGHT and ms and ms <= LONGEST_SEARCH_MS
        }


@dataclass
class PlainStudent:
    """What the exports of one student hold."""

    takes: list[PlainTake] = field(default_factory=list)
    earned: dict[tuple[str, str], date] = field(default_factory=dict)
    assignments: dict[str, dict] = field(default_factory=dict)
    music: list[dict] = field(default_factory=list)
    targets: dict[str, int | None] = field(default_factory=dict)

    def on(self, first: date, last: date) -> list[PlainTake]:
        return [take for take in self.takes if first <= take.day <= last]


def from_exports(paths: Iterable[Path]) -> PlainStudent:
    """Everything in these files, each thing once."""
    asked, entries = {}, {}
    for path in paths:
        with zipfile.ZipFile(path) as archive, archive.open("entries.jsonl") as lines:
            for line in lines:
                said = json.loads(line)
                if said["kind"] == "asked":
                    asked[said["digest"]] = said
                else:
                    entries[said["at"], said["device"], said["sequence"]] = said
    return _gone_through([entries[key] for key in sorted(entries)], asked)


def _gone_through(entries: list[dict], asked: dict[str, dict]) -> PlainStudent:
    judged = {tuple(one["of"]): one for one in entries if one["kind"] == "judgement"}
    student, met, known, heard = PlainStudent(), Counter(), {}, set()
    for one in entries:
        if one["kind"] == "take":
            key = (one["device"], one["sequence"], one["at"])
            which = one["bars"]["passage_key"]
            met[which] += 1
            by_ear = known.get(one.get("tune"), bool(one["known_by_ear"]))
            notes = asked[one["asked"]]
            was_heard = one["heard"] or (heard and _bar_keys(notes) in heard)
            unmet = met[which] <= 2 and not was_heard and not by_ear
            if key in judged:
                student.takes.append(_take(one, judged[key], notes["rows"], key, unmet))
        elif one["kind"] == "coach":
            student.targets[one["passage"]] = one["target_bpm"]
            for mark in (one.get("decision") or {}).get("earned", []):
                student.earned.setdefault((one["passage"], mark), _day(one))
        elif one["kind"] == "fact":
            content = one["content"]
            if one["about"] == "ear":
                known[content["tune"]] = content["known"]
            elif one["about"] == "heard":
                heard.add(tuple(content["bars"]))
            elif one["about"] == "assignment":
                _set(student, content, one)
    return student


def _bar_keys(asked: dict) -> tuple[str, ...]:
    """What is kept of bars that were listened to: of each bar half of SHA-256 of its metre and its notes. The bars of
    the class have no ties over their ends.
    """
    spans = [(Fraction(start), f"{beats}/{unit}") for start, beats, unit in asked["spans"]]
    bars: list[list[str]] = [[meter] for _, meter in spans]
    for row in asked["rows"]:
        (at, _), onset, length, written = row[13][0], Fraction(row[2]), Fraction(row[3]), row[4]
        bars[at].append(f"{onset - spans[at][0]}:{length}:{written}")
    return tuple(hashlib.sha256(" ".join(bar).encode()).hexdigest()[:32] for bar in bars)


def _take(one: dict, judgement: dict, rows: list, key: tuple, unmet: bool) -> PlainTake:
    verdicts, terms = judgement["verdicts"], one["terms"]
    minutes = (judgement["at"] - one["at"]) / 60e6
    return PlainTake(
        day=_day(one),
        key=key,
        passage=one["bars"]["passage_key"],
        title=one["bars"]["title"],
        stage=terms["stage"],
        bpm=terms["tempo_bpm"],
        minutes=min(max(minutes, 0.0), LONGEST_TAKE_MIN),
        reading=unmet and terms["stage"] not in ("rhythm", "letters"),
        verdicts=verdicts["verdict"],
        causes=verdicts["cause"],
        find_ms=verdicts["time_to_find_ms"],
        written=[(row[4], row[6], row[7]) for row in rows],
        soundings=[row[5] for row in rows],
        bars=[row[1] for row in rows],
        answered=[_first_answer(judgement["answers"], n) for n in verdicts["n"]],
    )


def _first_answer(answers: dict, n: int) -> int | None:
    """What was heard first for a note, by its number."""
    told = zip(answers["n"], answers["k"], answers["sounding"], strict=True)
    return next((sounding for of, k, sounding in told if (of, k) == (n, 1)), None)


def _set(student: PlainStudent, content: dict, one: dict) -> None:
    digest = content["digest"]
    if "text" in content:
        student.assignments[digest] = {**content, "withdrawn": False, "opened": _day(one)}
    elif "withdrawn" in content:
        student.assignments[digest]["withdrawn"] = content["withdrawn"]
    elif "pages" in content:
        student.music.append(content)


def _day(one: dict) -> date:
    """The day where the student is."""
    moment = datetime.fromtimestamp(one["at"] / 1e6, UTC)
    return (moment + timedelta(minutes=one["zone"])).date()


@dataclass(frozen=True)
class PlainWeek:
    """The numbers that stand first of a student, the week ending on a day."""

    last_day: date | None
    week_minutes: float
    week_days: int
    week_takes: int
    before_minutes: float
    read: int
    clean: int
    read_timed: int
    clean_timed: int
    found: int
    found_s: float


def plain_week(student: PlainStudent, today: date) -> PlainWeek:
    week = student.on(today - timedelta(days=6), today)
    before = student.on(today - timedelta(days=13), today - timedelta(days=7))
    read = [take for take in student.on(today - timedelta(days=27), today) if take.reading]
    timed = [take for take in read if take.bpm is not None]
    found = [seconds for take in read for seconds in take.found.values()]
    return PlainWeek(
        last_day=max((take.day for take in student.takes if take.day <= today), default=None),
        week_minutes=sum(take.minutes for take in week),
        week_days=len({take.day for take in week}),
        week_takes=len(week),
        before_minutes=sum(take.minutes for take in before),
        read=sum(take.notes for take in read),
        clean=sum(take.clean for take in read),
        read_timed=sum(take.notes for take in timed),
        clean_timed=sum(take.clean for take in timed),
        found=len(found),
        found_s=sum(found),
    )


@dataclass
class PlainNote:
    """A written note at its home, where it was read at first sight."""

    read: int = 0
    clean: int = 0
    causes: Counter = field(default_factory=Counter)
    found_s: list[float] = field(default_factory=list)


def plain_notes(student: PlainStudent, first: date, last: date) -> dict[tuple, PlainNote]:
    """By name, string and fret."""
    notes = defaultdict(PlainNote)
    for take in student.on(first, last):
        for at in take.counted if take.reading else ():
            note = notes[take.written[at]]
            note.read += 1
            note.clean += take.verdicts[at] in RIGHT
            if take.causes[at] is not None:
                note.causes[take.causes[at]] += 1
            if at in take.found:
                note.found_s.append(take.found[at])
    return notes


def plain_faults(takes: Iterable[PlainTake]) -> Counter:
    """How often each written note of a passage was answered by another one, elsewhere or by nothing: by passage, number
    of the note, what became of it, and what sounded.
    """
    return Counter(
        (take.passage, at, verdict, take.answered[at])
        for take in takes
        for at, verdict in enumerate(take.verdicts)
        if take.stage != "rhythm" and take.written[at][1] is not None and verdict in WRONG
    )


def plain_interval(right: int, of: int) -> tuple[float, float]:
    """Where a share lies with 95 in 100: Wilson's score interval (1927)."""
    z, share = 1.959964, right / of
    middle, reach = share + z * z / (2 * of), z * sqrt(share * (1 - share) / of + z * z / (4 * of * of))
    return (middle - reach) / (1 + z * z / of), (middle + reach) / (1 + z * z / of)


@dataclass(frozen=True)
class PlainPart:
    """A part that asked for `time`: when it was due and done, and whether it was withdrawn."""

    set_in: str
    title: str
    bpm: int
    due: date
    done: date | None
    withdrawn: bool


def set_and_done(student: PlainStudent) -> dict[tuple[str, int], PlainPart]:
    """By assignment and number. A part is done by the first take of its bars, since the assignment was opened, that was
    in time at its tempo or faster.
    """
    parts = {}
    for digest, one in student.assignments.items():
        said = tomllib.loads(one["text"])
        for number, tune in enumerate(said["tune"]):
            assert tune["stages"] == ["time"]
            laid = {
                key
                for music in student.music
                if (music["digest"], music["part"]) == (digest, number)
                for key in music["pages"]
            }
            days = [
                take.day
                for take in student.takes
                if take.passage in laid and take.day >= one["opened"] and _in_time(take, tune["tempo"])
            ]
            done = min(days, default=None)
            parts[digest, number] = PlainPart(
                said["title"], tune["title"], tune["tempo"], said["due"], done, one["withdrawn"]
            )
    return parts


def _in_time(take: PlainTake, bpm: int) -> bool:
    """All but one of the notes right and in time; of twenty or more nine of ten."""
    needed = take.notes - 1 if take.notes < 20 else -(-take.notes * 9 // 10)
    return take.stage == "time" and take.bpm is not None and take.bpm >= bpm and take.in_time >= needed


def plain_passages(student: PlainStudent) -> dict[str, tuple[int, float | None, float | None, int | None]]:
    """Of each passage: its takes; the tempo against the click played last, and the fastest at which nine of ten notes
    were right and in time; and the target.
    """
    found = {}
    for key in {take.passage for take in student.takes}:
        takes = [take for take in student.takes if take.passage == key]
        timed = [take for take in takes if take.stage in ("time", "sight") and take.bpm is not None]
        clean = [take.bpm for take in timed if 10 * take.in_time >= 9 * take.notes]
        newest = timed[-1].bpm if timed else None
        found[key] = (len(takes), newest, max(clean, default=None), student.targets.get(key))
    return found


WEEK_SQL = """
WITH met AS (
    SELECT take.*, ROW_NUMBER() OVER (PARTITION BY student, passage ORDER BY moment_us, place) AS nth FROM take
),
judged AS (
    SELECT met.student, met.day, met.tempo_bpm, met.stage, met.minutes, met.take,
        CASE WHEN nth <= 2 AND heard = 0 AND known_by_ear = 0 AND stage <> 'rhythm' AND stage <> 'letters'
            THEN 1 ELSE 0 END AS unmet
    FROM met
),
counted AS (
    SELECT judged.student, judged.day, judged.tempo_bpm, judged.stage, judged.unmet, note.n, note.find_us,
        CASE WHEN note.verdict IN (1, 2, 3) THEN 1 ELSE 0 END AS is_right
    FROM judged
    JOIN note ON note.student = judged.student AND note.take = judged.take
    JOIN item ON item.student = note.student AND item.item = note.item
    WHERE item.string IS NOT NULL AND note.verdict NOT IN (8, 9) AND judged.day > :weeks AND judged.day <= :today
),
played AS (
    SELECT student, MAX(day) AS last_day,
        SUM(CASE WHEN day > :after THEN minutes ELSE 0 END) AS week_minutes,
        COUNT(DISTINCT CASE WHEN day > :after THEN day END) AS week_days,
        SUM(CASE WHEN day > :after THEN 1 ELSE 0 END) AS week_takes,
        SUM(CASE WHEN day > :before AND day <= :after THEN minutes ELSE 0 END) AS before_minutes
    FROM judged WHERE day <= :today GROUP BY student
),
reading AS (
    SELECT student, COUNT(*) AS notes, SUM(is_right) AS clean,
        SUM(CASE WHEN tempo_bpm IS NOT NULL THEN 1 ELSE 0 END) AS timed,
        SUM(CASE WHEN tempo_bpm IS NOT NULL THEN is_right ELSE 0 END) AS clean_timed,
        SUM(CASE WHEN stage = 'places' AND is_right = 1 AND find_us IS NOT NULL THEN 1 ELSE 0 END) AS found,
        SUM(CASE WHEN stage = 'places' AND is_right = 1 AND find_us IS NOT NULL THEN find_us ELSE 0 END) AS found_us
    FROM counted WHERE unmet = 1 GROUP BY student
)
SELECT played.student, last_day, week_minutes, week_days, week_takes, before_minutes,
    COALESCE(notes, 0), COALESCE(clean, 0), COALESCE(timed, 0), COALESCE(clean_timed, 0),
    COALESCE(found, 0), COALESCE(found_us, 0)
FROM played LEFT JOIN reading ON reading.student = played.student ORDER BY played.student
"""
"""The same of all students at once, from single takes and notes: `:today`, and the days before each span begins."""


def bounds(today: date) -> dict[str, str]:
    """The values of `WEEK_SQL`."""
    spans = {"today": 0, "after": 7, "before": 14, "weeks": 28}
    return {name: (today - timedelta(days=days)).isoformat() for name, days in spans.items()}


def plain_weeks(connection, today: date) -> dict[bytes, PlainWeek]:
    """By the 16 bytes of a student's id, from either database."""
    found = {}
    for row in connection.execute(WEEK_SQL, bounds(today)).fetchall():
        student, last, week, days, takes, before, *reading, found_us = row
        numbers = map(int, (days, takes))
        found[bytes(getattr(student, "bytes", student))] = PlainWeek(
            date.fromisoformat(last), float(week), *numbers, float(before), *map(int, reading), int(found_us) / 1e6
        )
    return found


@cache
def by_student(folder: Path) -> dict[str, list[Path]]:
    """The exports in a folder that can be read, by the id that they say they are under."""
    found = defaultdict(list)
    for path in sorted(folder.rglob("*.zip")):
        try:
            with zipfile.ZipFile(path) as archive:
                said = json.loads(archive.read("contents.json"))
        except zipfile.BadZipFile:
            continue
        found[said["player"]["uuid"]].append(path)
    return found
