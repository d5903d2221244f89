"""The end of a sitting in words: what was played, which notes come quicker, what is new in ink, and tomorrow."""

from dataclasses import dataclass

from game.coach.notes.ink_of_map import InkCounts
from game.coach.numbers import NUMBERS
from game.coach.plan.day_facts import NoteGain, SittingEnd
from game.coach.plan.row_words import called
from game.desk.kit.note_fill import FilledNote
from game.message import Message, message
from game.screens.choosing.today_words import titled
from game.screens.context import ScreenContext
from game.screens.ink_sheet import filled_notes
from game.text.catalogue import in_figures, say, tell


@dataclass(frozen=True, slots=True, kw_only=True)
class QuickerNote:
    """A note that comes quicker: as it is written and called, and the seconds before and now, with their words."""

    written: str
    name: str
    before_s: float
    now_s: float
    before: str
    now: str


@dataclass(frozen=True, slots=True)
class TomorrowRow:
    """What is played tomorrow: its title, which may be cut, its bars, which may not, and a line below."""

    title: str
    bars: str
    below: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GoodNightSheet:
    """All that is said at the end of a sitting. `quicker_none` stands where no note is surely quicker; `aim` is its
    answer, empty for none; `unseen` is the word of the line that lies ready, empty for none. `read` are the notes of
    the day, `signed` the pages signed on it.
    """

    played: str
    aim: str
    quicker: tuple[QuickerNote, ...]
    quicker_none: str
    ink_title: str
    new_in_ink: str
    tomorrow: tuple[TomorrowRow, ...]
    unseen: str
    read: tuple[FilledNote, ...] = ()
    signed: tuple[str, ...] = ()


def good_night_sheet(context: ScreenContext, end: SittingEnd) -> GoodNightSheet:
    """The end of a sitting in the language that was chosen."""
    counts = context.session.notes.ink(context.settings.neck_map()).counts
    met = counts.ink + counts.pencil
    return GoodNightSheet(
        played=_played(end),
        # Who did not play today is told of no aim.
        aim=tell(end.aim.said) if end.aim and end.takes else "",
        quicker=tuple(_quicker(gain, context) for gain in end.quicker),
        quicker_none=_none_quicker(end),
        ink_title=say("good_night.new_ink" if end.new_ink else "good_night.ink"),
        new_in_ink=_new_in_ink(end, counts, context),
        tomorrow=tuple(_tomorrow(title, quiet) for title, quiet in end.tomorrow),
        unseen=say("good_night.unseen") if met >= NUMBERS.sight_after_met else "",
        read=filled_notes(context, end.read, new_on=context.session.today().toordinal()),
        signed=tuple(map(tell, end.signed)),
    )


def _played(end: SittingEnd) -> str:
    if not end.takes:
        return say("good_night.no_take")
    parts: list[Message] = [
        message("good_night.minutes", count=max(1, end.minutes)),
        message("good_night.takes", count=end.takes),
    ]
    if end.pages_signed:
        parts.append(message("good_night.pages", count=end.pages_signed))
    return say("good_night.played", parts=tuple(parts))


def _none_quicker(end: SittingEnd) -> str:
    if end.quicker:
        return ""
    if not end.notes_read:
        return say("good_night.none_read")
    return say("good_night.none_quicker" if end.compared else "good_night.notes_read", count=end.notes_read)


def _quicker(gain: NoteGain, context: ScreenContext) -> QuickerNote:
    return QuickerNote(
        written=gain.written,
        name=_called(gain.written, context),
        before_s=gain.before_s,
        now_s=gain.now_s,
        before=say("good_night.seconds", seconds=in_figures(gain.before_s, ".1f")),
        now=say("good_night.seconds", seconds=in_figures(gain.now_s, ".1f")),
    )


def _new_in_ink(end: SittingEnd, counts: InkCounts, context: ScreenContext) -> str:
    ink, pitches = counts.ink, counts.pitches
    if not end.new_ink:
        return say("good_night.ink_so_far", ink=ink, pitches=pitches, pencil=counts.pencil)
    names = tuple(dict.fromkeys(_called(written, context) for written in end.new_ink))
    return say("good_night.new_in_ink", notes=names, ink=ink, pitches=pitches)


def _tomorrow(title: Message, quiet: Message) -> TomorrowRow:
    name, bars = titled(title)
    return TomorrowRow(name, bars, tell(quiet))


def _called(written: str, context: ScreenContext) -> str:
    return tell(called(written, context.settings.note_names, context.settings.reading.clef))
