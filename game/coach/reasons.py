"""The coach's sentences: short, plain, in the words of music. All of them stand here."""

from game.coach.events import PassageFacts, TakeResult
from game.coach.stages import Pulse, Stage
from game.coach.tempo.next_tempo import NextTempo, Why

_WORDS = (
    *("no", "one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
)

NOTHING_READ = "Nothing was read."
SAME_ONCE_MORE = "The same once more, whenever you are ready."
ONCE_MORE_ANOTHER_DAY = "Once more like that on another day, and it is signed off. Other music now."
SIGNED_OFF = "Signed off. On to other music."
STILL_SIGNED_OFF = "Still at the target tempo. On to other music."
TO_THE_END = "Once more, and this time to the end."
SAME_NOTE_TWICE = "But a note was wrong that was wrong last time too: look at that one alone."
RHYTHM_ALONE = "Right notes, but beside the beat: the rhythm alone, on any one note."
SIGHT_OVER = "That was first sight: once through and done. Other music now."
BACK_TO_PLACES = "The metronome is too much here yet: back to the places, without a clock."
EASIER_AFTER_FALL = "The metronome is still too much here: an easier passage first."
EASIER_AFTER_TRIES = "An easier passage first; this one keeps."
ANOTHER_AS_WISHED = "As you wish: another passage."
FREE_AS_WISHED = "As you wish: without the metronome, at your own pace."

BEGIN = {
    (Stage.LETTERS, Pulse.FREE): "Name each note.",
    (Stage.PLACES, Pulse.FREE): "Each note at its home; take the time you need.",
    (Stage.RHYTHM, Pulse.FREE): "Now the rhythm alone, on any one note, at your own pace.",
    (Stage.RHYTHM, Pulse.METRONOME): "Now the rhythm with the metronome, at {bpm}.",
    (Stage.TIME, Pulse.FREE): "Now notes and rhythm together, at your own pace.",
    (Stage.TIME, Pulse.METRONOME): "Now with the metronome, at {bpm}.",
    (Stage.SIGHT, Pulse.FREE): "Once through, and keep going.",
    (Stage.SIGHT, Pulse.METRONOME): "Once through at {bpm}, and keep going.",
}
AGAIN = {
    Stage.LETTERS: "The letters once more.",
    Stage.PLACES: "The places once more.",
    Stage.RHYTHM: "The rhythm once more.",
    Stage.TIME: "Once more at your own pace.",
    Stage.SIGHT: SIGHT_OVER,
}


def begun(stage: Stage, pulse: Pulse, bpm: int | None) -> str:
    """What a stage asks, said when it begins."""
    return BEGIN[stage, pulse].format(bpm=bpm)


def counted(right: int, asked: int) -> str:
    """As players say it: "Eleven of twelve", "30 of 32", "All twelve", "None of twelve"."""
    if right == asked:
        return f"All {_number(asked)}" if asked > 1 else "The one note"
    words = f"{_number(right) if right else 'none'} of {_number(asked)}"
    return words[0].upper() + words[1:]


def report(result: TakeResult) -> str:
    """What was played: how many right, how fast, whether without a stop. In `rhythm`, how many in time."""
    right = result.clean - result.off_time if result.stage is Stage.RHYTHM else result.right
    if not result.homes:
        return NOTHING_READ
    said = counted(right, result.homes)
    if result.stage is Stage.RHYTHM:
        said += " in time"
    elif result.other_place_notes:
        said += " right in pitch"
    if result.tempo_bpm is not None:
        said += f" at {round(result.tempo_bpm)}"
        said += ", without a stop" if result.kept_going and result.stage is Stage.TIME else ""
    return said + "."


def tempo_said(step: NextTempo, played_bpm: int) -> str:
    """Why the next take goes at its tempo."""
    lower, higher = step.bpm < played_bpm, step.bpm > played_bpm
    same, slower = f"again at {step.bpm}", f"slower, {step.bpm}"
    down = slower if lower else same
    sentences = {
        Why.HELD: f"Now {step.bpm}." if higher else f"Again at {step.bpm}.",
        Why.TOO_FAST: f"A little too fast yet: {slower}." if lower else f"Again at {step.bpm}.",
        Why.FELL_APART: f"It fell apart: down to {step.bpm}." if lower else f"It fell apart: {same}, calmly.",
        Why.STOPPED: f"It stopped on the way: {down}.",
        Why.OUT_OF_TIME: f"Right notes, but beside the beat: {down}.",
        Why.NOT_YET: f"The last takes were not clean enough to go faster: {same}.",
        Why.SETTLING: f"The last one for today, easy, at {step.bpm}.",
        Why.TARGET: f"Straight at the target tempo, {step.bpm}.",
        Why.NEW_DAY: f"A new day, a little under the steady tempo: {step.bpm}.",
    }
    return sentences[step.why]


def enough_for_today(takes: int) -> str:
    """The passage has been played often enough today."""
    return f"{_number(takes).capitalize()} times today is enough: the same notes in other bars now."


def not_yet_ready(first_bpm: int | None, passage: PassageFacts, *, slow: bool) -> str:
    """Why the places come once more, with the figure that is still short."""
    if slow and first_bpm is not None:
        needed_s = 1.2 * passage.usual_note_beats
        once_more = AGAIN[Stage.PLACES]
        return f"Sure, but not quick yet: most notes within {needed_s:.1f} seconds, then the clock. {once_more}"
    return f"Not sure enough for the clock yet. {AGAIN[Stage.PLACES]}"


def wished(stage_said: str) -> str:
    """A sentence that follows the player's own wish."""
    return f"As you wish. {stage_said}"


def _number(count: int) -> str:
    """A whole number as it is said: words up to twelve."""
    return _WORDS[count] if count < len(_WORDS) else str(count)
