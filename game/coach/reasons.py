"""What the coach says, as keys of the text catalogue with their values: short sentences in the words of music.

Each is a whole sentence, so that every language can build it in its own way; all of them stand here.
"""

from game.coach.events import PassageFacts, TakeResult
from game.coach.stages import Pulse, Stage
from game.coach.tempo.next_tempo import NextTempo, TempoReason
from game.message import Message, message

NOTHING_READ = message("coach.nothing_read")
SAME_ONCE_MORE = message("coach.same_once_more")
ONCE_MORE_ANOTHER_DAY = message("coach.once_more_another_day")
ONCE_MORE_AFTER_A_NIGHT = message("coach.once_more_after_a_night")
SIGNED_OFF = message("coach.signed_off")
STILL_SIGNED_OFF = message("coach.still_signed_off")
TO_THE_END = message("coach.to_the_end")
SAME_NOTE_TWICE = message("coach.same_note_twice")
SAME_NOTE_AWAY = message("coach.same_note_away")
RHYTHM_ALONE = message("coach.rhythm_alone")
RHYTHM_ALONE_TIMING = message("coach.rhythm_alone_timing")
RHYTHM_ALONE_OFF_BEAT = message("coach.rhythm_alone_off_beat")
FALSE_START = message("coach.false_start")
NOT_HEARD_ENOUGH = message("coach.not_heard_enough")
FIND_ALL = message("coach.find_all")
SIGHT_OVER = message("coach.sight_over")
BACK_TO_PLACES = message("coach.back_to_places")
EASIER_AFTER_FALL = message("coach.easier_after_fall")
EASIER_AFTER_TRIES = message("coach.easier_after_tries")
ANOTHER_AS_WISHED = message("coach.another_as_wished")
FREE_AS_WISHED = message("coach.free_as_wished")
PLACES_AFTER_RHYTHM = message("coach.places_after_rhythm")
FREE_NOT_SURE = message("coach.free_not_sure")
NOT_SURE = message("coach.not_sure")

AGAIN = {
    Stage.LETTERS: message("coach.letters_again"),
    Stage.PLACES: message("coach.places_again"),
    Stage.RHYTHM: message("coach.rhythm_again"),
    Stage.TIME: message("coach.time_again"),
}

# By where the next tempo lies: below the last one, at it, above it.
_TEMPO = {
    TempoReason.HELD: ("coach.tempo_again", "coach.tempo_again", "coach.tempo_faster"),
    TempoReason.TOO_FAST: ("coach.too_fast_slower", "coach.tempo_again", "coach.tempo_again"),
    TempoReason.FELL_APART: ("coach.fell_apart_slower", "coach.fell_apart_again", "coach.fell_apart_again"),
    TempoReason.STOPPED: ("coach.stopped_slower", "coach.stopped_again", "coach.stopped_again"),
    TempoReason.OUT_OF_TIME: ("coach.off_beat_slower", "coach.off_beat_again", "coach.off_beat_again"),
    TempoReason.BEGAN_AGAIN: ("coach.began_again_slower", "coach.began_again_again", "coach.began_again_again"),
    TempoReason.TIMING: ("coach.timing_slower", "coach.timing_again", "coach.timing_again"),
    TempoReason.TIMING_LOWEST: ("coach.timing_lowest",) * 3,
    TempoReason.NOT_CLEAN: ("coach.not_clean",) * 3,
    TempoReason.WISHED: ("coach.wished_slower",) * 3,
    TempoReason.OVER_TARGET: ("coach.over_target",) * 3,
    TempoReason.LOWEST: ("coach.lowest",) * 3,
    TempoReason.AS_LAST_TIME: ("coach.as_last_time",) * 3,
    TempoReason.STEP_ON: ("coach.step_on",) * 3,
    TempoReason.NOT_YET: ("coach.not_clean_enough",) * 3,
    TempoReason.SETTLING: ("coach.settling",) * 3,
    TempoReason.TARGET: ("coach.at_target",) * 3,
    TempoReason.NEAR_TARGET: ("coach.near_target",) * 3,
    TempoReason.NEW_DAY: ("coach.new_day",) * 3,
}

_REPORTS = frozenset(
    f"coach.{many}_{what}{how}"
    for many in ("all", "some", "none")
    for what in ("in_time", "right", "right_in_pitch")
    for how in ("", "_at", "_at_without_a_stop")
)


def begun(stage: Stage, pulse: Pulse, bpm: int | None) -> Message:
    """What a stage asks, said when it begins. `bpm` goes with the metronome."""
    if pulse is Pulse.METRONOME:
        return message(f"coach.begin_at.{stage.value}", bpm=bpm)
    return message(f"coach.begin.{stage.value}")


def report(result: TakeResult) -> Message:
    """What was played: how many right, how fast, whether without a stop. In `rhythm`, how many in time."""
    if not result.homes:
        return NOTHING_READ
    right = result.clean - result.off_time if not result.stage.pitch_counts else result.right
    kind = f"{_what_counts(result)}{_how(result)}"
    at = {} if result.tempo_bpm is None else {"bpm": round(result.tempo_bpm)}
    if right == result.homes:
        return message(f"coach.all_{kind}", count=result.homes, **at)
    if not right:  # never "right in pitch": a note away from its home counts as right
        return message(f"coach.none_{kind}", asked=result.homes, **at)
    return message(f"coach.some_{kind}", count=right, asked=result.homes, **at)


def without_report(said: tuple[Message, ...]) -> tuple[Message, ...]:
    """What a decision says besides how the take went: where a result tells that itself, in counts of its own."""
    return tuple(one for one in said if one != NOTHING_READ and one.key not in _REPORTS)


def _what_counts(result: TakeResult) -> str:
    if not result.stage.pitch_counts:
        return "in_time"
    return "right_in_pitch" if result.other_place_notes else "right"


def _how(result: TakeResult) -> str:
    if result.tempo_bpm is None:
        return ""
    return "_at_without_a_stop" if result.kept_going and result.stage is Stage.TIME else "_at"


def tempo_said(step: NextTempo, played_bpm: int) -> Message:
    """Why the next take goes at its tempo."""
    slower, same, faster = _TEMPO[step.why]
    key = same if step.bpm == played_bpm else slower if step.bpm < played_bpm else faster
    return message(key, bpm=step.bpm)


def too_short_to_sign_off(notes: int, least: int) -> Message:
    """Clean at the target, but of so few notes that it says nothing: a longer passage is asked for."""
    return message("coach.too_short_to_sign_off", count=notes, least=least)


def enough_for_today(takes: int) -> Message:
    """The passage has been played often enough today."""
    return message("coach.enough_for_today", count=takes)


def begun_and_left(times: int) -> Message:
    """The passage was begun and left too often today."""
    return message("coach.begun_and_left", count=times)


def no_slower(lowest_bpm: int) -> tuple[Message, ...]:
    """Why a wish for slower changes nothing, and what can be done."""
    return (message("coach.no_slower", bpm=lowest_bpm),)


def no_faster(highest_bpm: int) -> tuple[Message, ...]:
    """Why a wish for faster changes nothing."""
    return (message("coach.no_faster", bpm=highest_bpm),)


def not_yet_ready(first_bpm: int | None, passage: PassageFacts, *, slow: bool) -> tuple[Message, ...]:
    """Why the places come once more, with the figure that is still short."""
    once_more = AGAIN[Stage.PLACES]
    if slow and first_bpm is not None:
        return message("coach.not_quick", seconds=1.2 * passage.usual_note_beats), once_more
    return NOT_SURE, once_more


def wished(stage_said: Message) -> tuple[Message, ...]:
    """A sentence that follows the player's own wish."""
    return message("coach.as_you_wish"), stage_said
