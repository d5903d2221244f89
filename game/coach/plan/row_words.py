"""What the rows of Today are called, and the one quiet sentence of each: keys of the text catalogue with values."""

from collections.abc import Sequence
from dataclasses import dataclass

from game.coach.marks import Mark
from game.coach.notes.items import ItemKey
from game.coach.plan.plan_steps import PassageStanding, PlanStep, StepKind
from game.coach.stages import Pulse, Stage
from game.message import Message, message, verbatim
from game.music.clef import Clef
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import pitch

_NAMED_MOST = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class RowFacts:
    """What is known of the music of a step: its `title`, how its passage stands, the tempi still to be kept up to
    signing (`rungs`) and the one it is at now, whether its notes are due or unsure rather than slow, whether a tune is
    the player's `own`, whether it is the `first` one of all, and a `lead_sheet`. `first_notes` are those of a first
    day, as written. `clef` is that of the player's pages.
    """

    title: Message | None = None
    standing: PassageStanding | None = None
    pulse: Pulse = Pulse.FREE
    rungs: tuple[int, ...] = ()
    now_bpm: int | None = None
    due: bool = False
    unsure: bool = False
    own: bool = False
    first: bool = False
    lead_sheet: bool = False
    first_notes: tuple[str, ...] = ()
    clef: Clef = Clef.TREBLE


def called(written: str, names: NoteNames, clef: Clef = Clef.TREBLE) -> Message:
    """A written note as one says it: "E♭", "low B♭", "high A"; with ledger lines on either side of the staff, where it
    has the staff's own notes as namesakes.
    """
    at = pitch(written)
    name = verbatim(name_in(spelling_of(at), names))
    if clef.below(at):
        return message("note.low", note=name)
    return message("note.high", note=name) if clef.above(at) else name


def notes_called(keys: Sequence[ItemKey], names: NoteNames) -> tuple[Message, ...]:
    """The first few of some notes as one says them, each once."""
    return tuple(dict.fromkeys(called(key.written, names, key.clef) for key in keys))[:_NAMED_MOST]


def row_title(step: PlanStep, facts: RowFacts) -> Message:
    """What a row is called: its music by name where that is what one wants to know."""
    named = step.kind in (StepKind.PASSAGE, StepKind.COURSE) or (step.kind is StepKind.SIGNED_OFF and not step.whole)
    if named and facts.title is not None:
        return facts.title
    if step.kind is StepKind.NEW_TUNE and facts.first and facts.title is not None:
        return facts.title
    if step.kind is StepKind.NEW_TUNE and facts.own:
        return message("day.row.own tune")
    if step.kind is StepKind.NEW_TUNE and facts.lead_sheet:
        return message("day.row.new_lead_sheet")
    return message("day.row.new notes" if _new_notes(step) else f"day.row.{step.kind.value}")


def _new_notes(step: PlanStep) -> tuple[str, ...]:
    """The notes that a block on notes is there to meet, as written."""
    return step.line.new if step.kind is StepKind.SLOW_NOTES and step.line is not None else ()


def row_quiet(step: PlanStep, facts: RowFacts, names: NoteNames) -> Message:
    """Its one quiet sentence; the map first where the step is read on one of its own, or on several by turns."""
    quiet = _quiet(step, facts, names)
    if not step.maps:
        return quiet
    return message("day.quiet.on_map", map=_called(step), quiet=quiet)


def row_quiet_shorter(step: PlanStep) -> tuple[Message, ...]:
    """The same in fewer words, the longest first, for where there is no room: the maps of the step alone, then how many
    there are. None where it has no maps of its own.
    """
    if not step.maps:
        return ()
    if len(step.maps) == 1:
        return _called(step)
    return (message("day.quiet.in_turn", map=_called(step)), message("day.quiet.several", count=len(step.maps)))


def _called(step: PlanStep) -> tuple[Message, ...]:
    return tuple(verbatim(one.name) for one in step.maps)


def _quiet(step: PlanStep, facts: RowFacts, names: NoteNames) -> Message:
    match step.kind:
        case StepKind.WARM_UP | StepKind.SLOW_NOTES:
            return _of_notes(step, facts, names)
        case StepKind.PASSAGE:
            return passage_quiet(facts)
        case StepKind.SIGNED_OFF:
            return _to_end_with(step, facts)
        case _:
            return _of_other(step, facts, names)


def _of_other(step: PlanStep, facts: RowFacts, names: NoteNames) -> Message:
    if facts.first and step.kind is StepKind.NEW_TUNE:
        return message("day.quiet.first_tune")
    # What was done stands in the log: its music may be gone from the shelf since, or never have been on this computer.
    at_sight = "day.quiet.line" if facts.title is None else "day.quiet.tune_at_sight"
    notes = tuple(called(written, names, facts.clef) for written in step.five_notes or facts.first_notes)
    keys = {
        StepKind.FIVE_NOTES: "day.quiet.five_notes" if notes else "day.quiet.first_notes",
        StepKind.FIRST_SIGHT: at_sight,
        StepKind.COURSE: f"day.quiet.course.{(step.stage or Stage.PLACES).value}",
        StepKind.NEW_TUNE: "day.quiet.places" if facts.title is None else "day.quiet.new_tune",
        StepKind.HEARD_WHOLE: "day.quiet.heard_whole",
        StepKind.FREE_READING: "day.quiet.free_reading",
        StepKind.REST: "day.quiet.rest",
    }
    values = {"notes": notes} if notes else {} if facts.title is None else {"title": facts.title}
    return message(keys[step.kind], **values)


def _of_notes(step: PlanStep, facts: RowFacts, names: NoteNames) -> Message:
    new = _new_notes(step)
    if new:
        notes = tuple(dict.fromkeys(called(written, names, facts.clef) for written in new))[:_NAMED_MOST]
        return message("day.quiet.notes_to_meet", notes=notes)
    named = notes_called(step.line.notes if step.line else (), names)
    if not named:
        return message("day.quiet.notes_new" if step.kind is StepKind.WARM_UP else "day.quiet.notes_hardly_met")
    why = "due" if facts.due else "unsure" if facts.unsure else "slow"
    return message(f"day.quiet.notes_{why}", notes=named, count=len(named))


def passage_quiet(facts: RowFacts) -> Message:
    """What comes next in a passage, and how far it is to the next mark."""
    standing = facts.standing
    if standing is None or standing.last_day is None:
        return message("day.quiet.next_bars")
    if standing.half_day is not None and Mark.SIGNED_OFF not in standing.marks and standing.target_bpm:
        return message("day.quiet.signs_it", bpm=standing.target_bpm)
    if standing.stage is Stage.TIME:
        return _in_time(facts)
    found = standing.stage is Stage.PLACES and Mark.FOUND in standing.marks
    return message("day.quiet.places_found" if found else f"day.quiet.{standing.stage.value}")


def _in_time(facts: RowFacts) -> Message:
    if facts.pulse is Pulse.FREE:
        return message("day.quiet.time_free")
    if facts.rungs:
        return message("day.quiet.rungs", count=len(facts.rungs), bpm=facts.now_bpm or facts.rungs[0])
    return message("day.quiet.time")


def _to_end_with(step: PlanStep, facts: RowFacts) -> Message:
    if step.whole:
        return message("day.quiet.played_whole", title=facts.title or verbatim(""))
    return message("day.quiet.before_it_slips") if facts.due else passage_quiet(facts)
