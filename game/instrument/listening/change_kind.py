"""What a change of the pitch that sounds is: another pluck, a finger on its way, a slur, a bend, or nothing. Pure."""

from enum import Enum

from game.instrument.listening.attack import Attack
from game.instrument.listening.early_pitch import is_partial
from game.instrument.listening.pitch_track import PitchChange
from game.instrument.listening.sounding_note import SoundingNote
from game.instrument.listening.stepped_sound import SteppedSound

_SOON_S = 0.045
"""What is not louder is no pluck where the pitch comes later than this."""
_PASSING_S = 0.085
"""A fret that is left so soon was only passed."""
_ARRIVES_S = 0.100
"""A pitch that is arrived at so soon after the pluck, by a slide, is the note's own."""


class ChangeKind(Enum):
    """What there is to be told of it."""

    PARTIAL = "partial"
    """The note sounds on, and a partial of it was taken for it."""
    PLUCK = "pluck"
    """Another note was plucked a moment ago, and only its pitch tells."""
    PASSED = "passed"
    """A finger slides: the fret of the note was touched only in passing."""
    ARRIVED = "arrived"
    """The note was plucked on the way to its pitch."""
    BEND = "bend"
    SLUR = "slur"


def change_kind(
    note: SoundingNote, change: PitchChange, *, left: float, unheard: Attack | None, sound: SteppedSound
) -> ChangeKind:
    """What a change of a note is that had the pitch `left`; `unheard` is a pluck of late that gave no note."""
    if is_partial(abs(change.pitch - left)) and (unheard is None or not unheard.is_loud):
        return ChangeKind.PARTIAL
    if unheard is not None and (unheard.is_loud or change.is_mixed or change.at - unheard.at < sound.count(_SOON_S)):
        return ChangeKind.PLUCK
    since = change.at - note.began
    if since < sound.count(_PASSING_S) and (note.slurred or (note.is_faint and since > sound.count(_SOON_S))):
        return ChangeKind.PASSED
    if since < sound.count(_ARRIVES_S) and not note.is_settled and not note.slurred:
        return ChangeKind.ARRIVED
    return ChangeKind.BEND if change.is_bend else ChangeKind.SLUR
