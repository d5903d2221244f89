"""The answers of `homefret take`: a take that was judged, or the takes of a day."""

from typing import Annotated

import msgspec
from msgspec import UNSET, Meta, UnsetType

from game.coach.stages import Stage
from game.commands.answers.kinds import Answer, BarNumbers, Count, Day, Ordinal, Share, Words
from game.judging.verdicts import Cause, EventKind, Verdict

Milliseconds = Annotated[float, Meta(description="milliseconds")]


class TakeVerdict(Answer, frozen=True, kw_only=True):
    """What was made of a written note. `played`, `string`, `fret` are of the first answer, null where none came."""

    n: Ordinal
    verdict: Verdict
    octave_off: bool
    cause: Cause | None
    played: Annotated[int | None, Meta(description="MIDI number of the first answer")]
    string: Annotated[int | None, Meta(description="where it was played")]
    fret: Annotated[int | None, Meta(description="where it was played")]
    offset_ms: Annotated[float | None, Meta(description="negative early, null untimed")]
    time_to_find_ms: Milliseconds | None
    tries: Count
    answers: Annotated[list[int], Meta(description="MIDI numbers of all answers")]


class ExtraNote(Answer, frozen=True, kw_only=True):
    """A played note that answers nothing."""

    played: int
    time_ms: Milliseconds


class TimedEvent(Answer, frozen=True, kw_only=True):
    """What happened beside the notes."""

    kind: EventKind
    n: int | None
    time_ms: Milliseconds


class TakeSummary(Answer, frozen=True, kw_only=True):
    """A count for each verdict, and what they come to. `right_notes` and `in_time` are of the `asked`: right in pitch
    and place; right and within the tolerance. `bias_ms` is the median offset, `spread_ms` their deviation.
    Answers of before there were two results lack them, and those of before guitars were heard `unsure`.
    """

    clean: Count
    wrong_pitch: Count = msgspec.field(name="wrong pitch")
    other_place: Count = msgspec.field(name="other place")
    early: Count
    late: Count
    missed: Count
    hinted: Count
    unread: Count
    clean_share: Share | None
    bias_ms: float | None
    spread_ms: float | None
    kept_going: bool
    asked: Count | UnsetType = UNSET
    right_notes: Count | UnsetType = UNSET
    in_time: Annotated[Count | UnsetType | None, Meta(description="null untimed")] = UNSET
    ahead_percent: Annotated[
        float | UnsetType | None,
        Meta(description="how much faster than the click the player's own pulse was, negative slower"),
    ] = UNSET
    unsure: Annotated[Count | UnsetType, Meta(description="something was played there that could not be told")] = UNSET


class NamedTake(Answer, frozen=True, kw_only=True):
    """Which take of a log it is, and what was asked. `sighting` is how often the player had met the bars."""

    day: Day
    number: Ordinal
    title: str
    bars: BarNumbers
    stage: Stage
    tempo: float | None
    sighting: Ordinal


class TakeOfALog(NamedTake, frozen=True, kw_only=True):
    """A take out of a log; `notes` were played in it."""

    notes: Count


class TakeOfADay(NamedTake, frozen=True, kw_only=True):
    """A take in the list of a day."""

    clean_share: Share | None


class DayAnswer(Answer, frozen=True, kw_only=True):
    """The takes of a day, in their order."""

    takes: Annotated[list[TakeOfADay], Meta(min_length=1)]


class HeardSound(Answer, frozen=True, kw_only=True):
    """A recording that was heard: the sound of the channels `used`, of all its `channels`. `clipped` counts places
    where the wave was cut off; `missing_seconds` is what the file lacks of what its beginning promises.
    """

    format: Words
    rate: Annotated[int, Meta(ge=1, description="samples a second")]
    channels: Count
    used: Annotated[list[Ordinal], Meta(min_length=1)]
    seconds: Annotated[float, Meta(ge=0)]
    level_db: Annotated[float, Meta(description="how loud the playing is, against full scale")]
    hum_db: Annotated[float, Meta(description="how loud mains hum is, against full scale")]
    clipped: Count
    tuned_cents: Annotated[
        float | None, Meta(description="by how much the guitar was tuned sharp of 440 Hz, negative flat")
    ]
    missing_seconds: Annotated[float, Meta(ge=0)]


class TakeAnswer(Answer, frozen=True, kw_only=True):
    """A judged take. `take` and `file` are there for one out of a log: which it is, and where it was written; `sound`
    for a recording of a plain guitar.
    """

    judge_version: int
    verdicts: list[TakeVerdict]
    extra: list[ExtraNote]
    events: list[TimedEvent]
    summary: TakeSummary
    stage: Stage
    swing: Annotated[float | None, Meta(description="the player's own long:short, null where it cannot be told")]
    take: TakeOfALog | UnsetType = UNSET
    file: str | UnsetType | None = UNSET
    sound: HeardSound | UnsetType = UNSET
    warnings: list[str]
