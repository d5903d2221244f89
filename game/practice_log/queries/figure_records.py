"""The figures that a practice log comes to: of a day, a written note, a passage, and of what went wrong."""

from dataclasses import dataclass
from datetime import date
from math import sqrt

from game.coach.certainty import wilson_lower, wilson_upper

INTERVAL_Z = 1.959964
"""Two-sided 95 % of the normal distribution (standard table)."""

FEWEST_TIMED = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class DayFigures:
    """A day's practice. `read` notes were met at first sight and `clean` of them clean; `found` notes took `found_s`
    seconds to find, at the player's own pace; `found_s2` is the sum of the squares of these seconds.
    Of what was met at first sight, `read_timed` notes were asked against the click, and `clean_timed` of them right.
    """

    day: date
    minutes: float
    takes: int
    read: int
    clean: int
    found: int
    found_s: float
    found_s2: float = 0.0
    read_timed: int = 0
    clean_timed: int = 0

    @property
    def share(self) -> float | None:
        """The first-sight score, 0 to 1; None on a day without first sight."""
        return self.clean / self.read if self.read else None

    @property
    def interval(self) -> tuple[float, float]:
        """Where the true share lies, at 95 % (Wilson 1927)."""
        return wilson_lower(self.clean, self.read, INTERVAL_Z), wilson_upper(self.clean, self.read, INTERVAL_Z)

    @property
    def untimed(self) -> tuple[int, int]:
        """Notes met at first sight without the click, and how many of them were right."""
        return self.read - self.read_timed, self.clean - self.clean_timed

    @property
    def timed(self) -> tuple[int, int]:
        """The same against the click, where each note has its time: another thing, and never one figure with it."""
        return self.read_timed, self.clean_timed

    @property
    def notes_a_second(self) -> float | None:
        """How quickly notes were found; None where nothing tells."""
        return self.found / self.found_s if self.found_s else None

    @property
    def pace_interval(self) -> tuple[float, float] | None:
        """Where the true notes a second lie, at 95 %: the normal interval of the mean time to find, turned over. None
        where fewer than two findings tell.
        """
        if self.found < FEWEST_TIMED or not self.found_s:
            return None
        mean = self.found_s / self.found
        variance = max(0.0, self.found_s2 - self.found * mean**2) / (self.found - 1)
        reach = INTERVAL_Z * sqrt(variance / self.found)
        return 1 / (mean + reach), 1 / max(mean - reach, mean / 10)


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteFigures:
    """A written note at its home, over some weeks of reading.

    `find_s` is the median time to find over `timed` findings, None where there is none; `causes` are why it was
    wrong and how often, the most frequent first.
    """

    written: str
    string: int
    fret: int
    read: int
    clean: int
    timed: int = 0
    find_s: float | None = None
    causes: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SightReading:
    """Bars read for the first time, neither heard nor known by ear before: `clean` of `notes` were right."""

    day: date
    title: str
    stage: str
    notes: int
    clean: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SignedPace:
    """A passage as it was signed off: at `bpm`, in the metre's own beat, of which each holds so many notes."""

    day: date
    title: str
    first: str
    last: str
    bpm: float
    notes_per_beat: float

    @property
    def notes_a_second(self) -> float:
        """What can be compared between passages: beats of one are not those of another."""
        return self.bpm * self.notes_per_beat / 60


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageFigures:
    """A passage. Tempi are in the metre's own beat: `newest_bpm` the last one played, `clean_bpm` the fastest with
    nine notes of ten right and in time. `marks` are the words of `coach.marks` with the day each was earned;
    `read_day` is when the bars were right at their first or second sighting, None where they were not.
    """

    key: str
    title: str
    first: str
    last: str
    takes: int
    first_day: date
    last_day: date
    newest_bpm: float | None
    clean_bpm: float | None
    target_bpm: int | None
    marks: tuple[tuple[str, date], ...] = ()
    read_day: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WentWrong:
    """A note that went wrong, `times` over some days. `played` is the sounding pitch (MIDI number) of the first
    answer, None when none came; `octaves_down` leads from the page to the sound.
    """

    day: date
    title: str
    bar: str
    written: str
    string: int
    fret: int
    verdict: str
    played: int | None
    cause: str | None
    octaves_down: int
    times: int
