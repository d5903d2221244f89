"""A class as its teacher meets it on Monday: of each student what they need and why, what to do in the lesson, and what
to set next.
"""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path, PurePosixPath
from posixpath import commonpath
from uuid import UUID

from game.coach.stages import Stage
from game.lines.titles import line_of_title, title_told
from game.message import Message, message, verbatim
from game.music.names import NoteNames
from game.practice_log.classes.class_queries import AskedClass, SetInClass, StudentWeek, class_week
from game.practice_log.classes.monday_queries import (
    LatelyPlayed,
    StuckPassage,
    clean_in_tune,
    day_minutes,
    first_after,
    first_files,
    played_last,
    stuck_passage,
)
from game.practice_log.classes.need import WEEK_DAYS, Need
from game.report.care import rise
from game.report.figure_words import bars_said, briefly, cause_said, day_said, note_said, shortened
from game.report.monday.cures import ABSENT, CURES, OVERDUE, Amount, Cure
from game.report.monday.set_next import NextSet, assign_words, file_name, quoted
from game.report.monday.trouble import Trouble, WhyStuck, why_stuck
from game.report.page_names import page_name
from game.text.catalogue import say, tell
from game.text.initials import initials_of_all

Accepts = Callable[[Sequence[str]], bool]
"""Whether these words behind `homefret` set something: only then are they shown."""

MOST_REASONS = 2
"""So many passages or parts are told of; that there are more is said."""

_CAUSES = frozenset(
    (
        Trouble.SIGNATURE, Trouble.ACCIDENTAL, Trouble.NEIGHBOUR, Trouble.LEDGER, Trouble.OCTAVE, Trouble.THIRD,
        Trouble.SLIP, Trouble.UNKNOWN,
    )
)  # fmt: skip
_MORE_THAN_WHOLE = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StudentMonday:
    """A student with a `name` that nobody else of the class has, and the file of their page. `why` they need their
    teacher, and what to do in the `lesson`; `line` is one for a terminal that sets what comes next in the file `out`,
    word by word, empty where nothing is to be set, and `hint` what is to be said of it. `caution` is said where
    somebody practised much more than they are used to.
    """

    week: StudentWeek
    name: str
    page: str
    out: str
    why: tuple[Message, ...] = ()
    lesson: Message | None = None
    line: tuple[str, ...] = ()
    hint: Message | None = None
    caution: Message | None = None

    @property
    def set_next(self) -> str:
        """The line as it is typed."""
        return " ".join(self.line)


def class_monday(
    asked: AskedClass,
    today: date,
    *,
    accepts: Accepts,
    names: NoteNames = NoteNames.ENGLISH,
    initials: bool = False,
    by_file: bool = True,
) -> tuple[StudentMonday, ...]:
    """All students, the one who needs their teacher most first, then by name; `by_file` as in `names_apart`."""
    weeks = class_week(asked, today)
    called = names_apart(weeks, asked, initials=initials, by_file=by_file)
    outs = _files_apart(called)
    away, minutes = played_last(asked, today), day_minutes(asked, today)
    later = first_after(asked, today) if any(week.last_day is None for week in weeks) else {}
    mondays = []
    for week in weeks:
        student = StudentMonday(
            week=week,
            name=called[week.student],
            page=page_name(week.student),
            out=outs[week.student],
            caution=rise(minutes.get(week.student, ()), today),
        )
        if week.last_day is None and week.student in later:
            why = message("monday.why.only_later", day=day_said(later[week.student]))
            mondays.append(replace(student, why=(why,)))
            continue
        mondays.append(_with_need(student, asked, today, away.get(week.student), accepts, names))
    urgent = list(Need)
    return tuple(sorted(mondays, key=lambda one: (urgent.index(one.week.need), one.name.casefold(), one.week.student)))


def names_apart(
    weeks: Sequence[StudentWeek], asked: AskedClass, *, initials: bool, by_file: bool
) -> Mapping[UUID, str]:
    """A name for each: of two who are called the same, with the file they handed in, where these are called the same
    with the folder it lies in, else with digits of their ids; not `by_file` always with these, for in a school no
    teacher may see which files came.
    """
    ids = {week.student: week.student for week in weeks}
    names = {week.student: week.name for week in weeks}
    if initials:
        return initials_of_all(names, ids)
    if len(set(map(str.casefold, names.values()))) == len(names):
        return names
    files = {one: PurePosixPath(path) for one, path in first_files(asked).items()} if by_file else {}
    apart = {one: f"{name} ({files[one].stem})" if one in files else name for one, name in _alike(names).items()}
    alike = _alike(names | apart).keys() & files.keys()
    if len(folders := {files[one].parent for one in alike}) > 1:
        shared = PurePosixPath(commonpath(folders))
        within = {one: files[one].parent.relative_to(shared) for one in alike}
        apart |= {one: f"{names[one]} ({path.parts[0]})" for one, path in within.items() if path.parts}
    apart |= {one: f"{name} ({one.hex[-4:]})" for one, name in _alike(names | apart).items()}
    return names | apart


def _files_apart(names: Mapping[UUID, str]) -> Mapping[UUID, str]:
    """A file for each student's assignment, after their name; with digits of their id where plain letters leave two
    names alike, so that no line of a page writes over what another one wrote.
    """
    files = {one: file_name(name) for one, name in names.items()}
    return files | {one: f"{Path(file).stem}-{one.hex[-4:]}{Path(file).suffix}" for one, file in _alike(files).items()}


def _alike(names: Mapping[UUID, str]) -> dict[UUID, str]:
    """Those whose name somebody else has, too."""
    count = Counter(name.casefold() for name in names.values())
    return {one: name for one, name in names.items() if count[name.casefold()] > 1}


def _with_need(
    student: StudentMonday,
    asked: AskedClass,
    today: date,
    away: LatelyPlayed | None,
    accepts: Accepts,
    names: NoteNames,
) -> StudentMonday:
    due = today + timedelta(days=WEEK_DAYS)
    match student.week.need:
        case Need.ABSENT:
            return _absent(student, away, due, accepts)
        case Need.OVERDUE:
            return _overdue(student, asked, today, due, accepts)
        case Need.STUCK:
            passages = [stuck_passage(asked, student.week.student, one, today) for one in student.week.stuck]
            return _stuck(student, sorted(passages, key=_played_last, reverse=True), due, accepts, names)
        case _:
            return student


def _absent(student: StudentMonday, away: LatelyPlayed | None, due: date, accepts: Accepts) -> StudentMonday:
    last = student.week.last_day
    why = message("monday.why.absent_since", day=day_said(last)) if last else message("monday.why.never")
    lesson = message(ABSENT.lesson)
    wanted = _of_bars(away, ABSENT) if away else None
    return _setting(replace(student, why=(why,), lesson=lesson), wanted, ABSENT, due, accepts)


def _overdue(student: StudentMonday, asked: AskedClass, today: date, due: date, accepts: Accepts) -> StudentMonday:
    parts = [part for part in student.week.parts if part.is_overdue(today)]
    why = [message("monday.why.overdue", part=part_told(part), day=day_said(part.due or today)) for part in parts]
    why = list(dict.fromkeys(why))
    first = parts[0]
    wanted = NextSet(
        title=first.title if first.level is None else "",
        bars=_some(first.bars, Amount.HALF),
        level=first.level,
        a_day=max(1, (first.a_day or 1) // 2),
        stages=(first.stage,) if first.stage in {stage.value for stage in Stage} else (),
        tempo_bpm=_within_reach(first, clean_in_tune(asked, student.week.student, first.title, today)),
    )
    lesson = message(OVERDUE.lesson)
    return _setting(replace(student, why=_shortened(why), lesson=lesson), wanted, OVERDUE, due, accepts)


def _within_reach(part: SetInClass, clean_bpm: float | None) -> int | None:
    """The tempo that was set, or one that can be reached in a week where that is far above what was clean."""
    reached = _of_clean(OVERDUE, clean_bpm)
    return part.target_bpm if part.target_bpm is None or reached is None else min(part.target_bpm, reached)


def _stuck(
    student: StudentMonday, passages: Sequence[StuckPassage], due: date, accepts: Accepts, names: NoteNames
) -> StudentMonday:
    whys = [(passage, why_stuck(passage)) for passage in passages]
    passage, first = whys[0]
    cure = CURES[first.trouble]
    lesson = message(cure.lesson, notes=_notes_told(first, names))
    told = _shortened([_why_told(one.bars, why, names) for one, why in whys])
    wanted = _of_bars(passage.bars, cure, first)
    return _setting(replace(student, why=told, lesson=lesson), wanted, cure, due, accepts)


def _played_last(passage: StuckPassage) -> date:
    return passage.takes[-1].day


def _shortened(why: Sequence[Message]) -> tuple[Message, ...]:
    more = len(why) - MOST_REASONS
    return (*why[:MOST_REASONS], *((message("monday.why.more", count=more),) if more > 0 else ()))


def _why_told(bars: LatelyPlayed, why: WhyStuck, names: NoteNames) -> Message:
    cause = (
        cause_said(why.trouble.value)
        if why.trouble in _CAUSES
        else message(f"monday.trouble.{why.trouble.name.lower()}")
    )
    tempo = [message("monday.tempo.last", bpm=why.last_bpm)] if why.last_bpm else [message("monday.tempo.none")]
    if why.clean_bpm:
        tempo.append(message("monday.tempo.clean", bpm=why.clean_bpm))
    elif why.last_bpm:
        tempo.append(message("monday.tempo.never_clean"))
    if why.target_bpm:
        tempo.append(message("monday.tempo.target", bpm=why.target_bpm))
    if why.notes:
        notes = _notes_told(why, names)
        return message("monday.why.stuck_at", passage=bars_told(bars), cause=cause, notes=notes, tempo=tempo)
    return message("monday.why.stuck", passage=bars_told(bars), cause=cause, tempo=tempo)


def _notes_told(why: WhyStuck, names: NoteNames) -> tuple[str, ...]:
    return tuple(note_said(written, names) for written in why.notes)


def bars_told(bars: LatelyPlayed) -> Message:
    """Which bars of what."""
    return message("monday.passage", title=title_told(bars.title), bars=bars_said(bars.first, bars.last))


def part_told(part: SetInClass) -> Message:
    """What was set: a tune with its bars, or fresh lines."""
    if part.level is not None:
        return message("monday.lines", level=part.level, count=part.a_day or 1)
    if part.bars is None:
        return verbatim(part.title)
    first, last = map(str, part.bars)
    return message("monday.passage", title=part.title, bars=bars_said(first, last))


def _of_bars(bars: LatelyPlayed, cure: Cure, why: WhyStuck | None = None) -> NextSet:
    tempo = _of_clean(cure, why.clean_bpm) if why is not None else None
    stages = tuple(stage.value for stage in cure.stages)
    line = line_of_title(bars.title)
    if line is not None:
        return NextSet(level=line[0], stages=stages, tempo_bpm=tempo)
    numbers = (bars.first, bars.last)
    whole = (int(bars.first), int(bars.last)) if all(map(str.isdecimal, numbers)) else None
    return NextSet(title=bars.title, bars=_some(whole, cure.amount), stages=stages, tempo_bpm=tempo)


def _of_clean(cure: Cure, clean_bpm: float | None) -> int | None:
    """The tempo a cure asks for, after the fastest clean one; more than that is at least a beat a minute more."""
    if cure.tempo is None or not clean_bpm:
        return None
    tempo = round(cure.tempo * clean_bpm)
    return max(tempo, round(clean_bpm) + 1) if cure.tempo > _MORE_THAN_WHOLE else tempo


def _some(bars: tuple[int, int] | None, amount: Amount) -> tuple[int, int] | None:
    if bars is None or bars[1] < bars[0]:
        return None
    first, last = bars
    most = {Amount.ALL: last, Amount.TWO_BARS: first + 1, Amount.HALF: first + (last - first) // 2}[amount]
    return first, min(last, most)


def _setting(student: StudentMonday, wanted: NextSet | None, cure: Cure, due: date, accepts: Accepts) -> StudentMonday:
    """With the line that sets it; where the music is not on the teacher's shelf, fresh lines instead."""
    out = student.out
    if wanted is not None:
        words = assign_words(wanted, called=_called(wanted), due=due, out=out)
        if accepts(words):
            return replace(student, line=quoted(words))
    stages = tuple(stage.value for stage in cure.stages)
    lines = NextSet(level=cure.level, stages=stages)
    words = assign_words(lines, called=_called(lines), due=due, out=out)
    hint = message("monday.not_on_shelf", title=title_told(wanted.title)) if wanted and wanted.title else None
    return replace(student, line=quoted(words) if accepts(words) else (), hint=hint)


def _called(what: NextSet) -> str:
    if what.level is not None:
        return say("monday.lines", level=what.level, count=what.a_day)
    if what.bars is None:
        return shortened(what.title)
    first, last = map(str, what.bars)
    return tell(briefly(message("monday.passage", title=title_told(what.title), bars=bars_said(first, last))))
