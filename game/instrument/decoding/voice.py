"""One string of a MIDI guitar: the note it sounds, as it was told. Pure.

A string sounds one note at a time. Whether a note was dirt, or the way to another, is often known only a
moment later: it is told at once and revised then. Times here are as the device told them; only the notes
themselves have the delay taken out.
"""

from dataclasses import dataclass, replace

from game.instrument.decoding.dirt import AT_ONCE_S, Dirt
from game.instrument.decoding.messages import NoteOn
from game.instrument.decoding.octave_jumps import OCTAVE, is_jump, may_fade
from game.instrument.decoding.played import NoteEvent, NoteFiltered, NoteRevised, NoteSettled, NoteStarted, PlayedNote
from game.instrument.decoding.strings_setup import StringsSetup

ROW_S = 0.060
"""So soon the next of a row of quick notes comes: sixteen a second, each of which sounds for a moment (ours)."""
LATE_END_S = 0.035
"""So late the end of a note is told at most, after the next has begun (ours): whatever the limits, no longer."""
REPEATS_S = 0.45
"""A note that overlaps one of the same pitch is its repeat where that began no longer ago (ours)."""
LOUDER = 2.0
"""A pluck this many times louder than what came just before it is no part of it (ours)."""


@dataclass(frozen=True, slots=True)
class Held:
    """A faint note beside one that stands, not told yet: a ghost, or a hammer-on. The next messages tell. `off_s` is
    when it ended, None while it sounds.
    """

    note_on: NoteOn
    sounding: int
    at_s: float
    source: str
    off_s: float | None = None


@dataclass(frozen=True, slots=True)
class Voice:
    """A string's note. `told` is the note as it was told last, None on a string that has not sounded.

    `number` is the MIDI number its note-off will have; `on_s` when it was plucked, `changed_s` when its pitch
    changed last, `jumped_s` when its octave was put right last; `ended_s` when it ended, None while it sounds;
    `released_s` when it was released under the pedal. `resting` is the pitch a bend is at, and since when. `before`
    is the note before it on the string; `legato` when it began as that ended, `in_row` when it began soon after and
    about as loud, `jump` when it may be the same, an octave off, `fades` when it may be that as it fades.
    `flickered` when it was a jump of octaves that was taken back; `settled` when the note was told as settled
    before it turned out to go on; `taken_back` when it was told to be dirt. A note that comes at once after that
    still begins with it. `doubtful` when it ended so soon that it may be dirt; `held` what came beside it.
    """

    told: NoteStarted | None = None
    number: int = -1
    on_s: float = 0.0
    changed_s: float = 0.0
    jumped_s: float = 0.0
    ended_s: float | None = None
    released_s: float | None = None
    resting: tuple[int, float] | None = None
    before: "Voice | None" = None
    legato: bool = False
    in_row: bool = False
    jump: bool = False
    fades: bool = False
    flickered: bool = False
    settled: bool = False
    taken_back: bool = False
    doubtful: bool = False
    held: Held | None = None

    @property
    def sounding(self) -> int | None:
        """The pitch that sounds, None in silence."""
        return self.told.note.sounding if self.told is not None and self.ended_s is None else None

    @property
    def waits(self) -> bool:
        """Whether time alone may tell something about it."""
        return self.resting is not None or self.doubtful

    def ended(self, at_s: float, *, taken_back: bool = False) -> "Voice":
        """The string fallen silent."""
        # Written out, for `dataclasses.replace` costs more than all the rest of a message.
        return Voice(
            told=self.told,
            number=self.number,
            on_s=self.on_s,
            changed_s=self.changed_s,
            jumped_s=self.jumped_s,
            ended_s=at_s,
            settled=self.settled,
            taken_back=taken_back,
        )

    def at_once_after(self, at_s: float) -> bool:
        """Whether what begins at a time does so while the note sounds, or as it ended."""
        return self.told is not None and (self.ended_s is None or at_s - self.ended_s <= AT_ONCE_S)

    def gap_s(self, at_s: float) -> float:
        """How long the string has been silent, 0 while it sounds."""
        return 0.0 if self.ended_s is None else at_s - self.ended_s


SILENT = Voice()
Heard = tuple[Voice, tuple[NoteEvent, ...]]


def begun(
    voice: Voice, note_on: NoteOn, sounding: int, at_s: float, setup: StringsSetup, source: str
) -> tuple[Voice, tuple[NoteStarted, ...]]:
    """A note begins on the string; `voice` is what was there, ended."""
    note = note_of(note_on, sounding, at_s, setup, source)
    _, off_neck = setup.placed(note_on.channel, sounding)
    started = NoteStarted(note=note, channel=note_on.channel, off_neck=off_neck)
    told = voice.told
    if told is None or voice.flickered or voice.taken_back:
        return Voice(started, note_on.pitch, at_s, at_s, at_s), (started,)
    gap_s, velocity = voice.gap_s(at_s), note_on.velocity
    in_row = gap_s <= ROW_S and LOUDER * velocity > told.note.velocity
    jump = is_jump(told.note, sounding, velocity, gap_s)
    legato, fades = gap_s <= AT_ONCE_S, may_fade(told.note, sounding, velocity, gap_s)
    fresh = Voice(started, note_on.pitch, at_s, at_s, at_s, before=voice, legato=legato, in_row=in_row, jump=jump)
    return (replace(fresh, fades=True) if fades else fresh), (started,)


def arrived(voice: Voice, told: NoteStarted, sounding: int, at_s: float, setup: StringsSetup) -> Heard:
    """The note comes to another pitch. A first guess octaves off is none: the pitch was so from the pluck, and what
    comes next is measured from there.
    """
    delay_s = setup.delay.of(sounding)
    place, off_neck = setup.placed(told.channel, sounding)
    guessed = (sounding - told.note.sounding) % OCTAVE == 0
    after = replace(
        told.note,
        started_s=voice.on_s - delay_s,
        sounding=sounding,
        place=place,
        arrived_s=told.note.arrived_s if guessed else at_s - delay_s,
    )
    started = NoteStarted(note=after, channel=told.channel, off_neck=off_neck)
    moved = replace(
        voice,
        told=started,
        changed_s=voice.changed_s if guessed else at_s,
        jumped_s=at_s if guessed else voice.jumped_s,
        resting=None,
        fades=False,
        ended_s=None,
        settled=voice.settled or (voice.ended_s is not None and not voice.taken_back),
        taken_back=False,
    )
    if voice.taken_back:
        return moved, (started,)
    return moved, (NoteRevised(before=told.note, after=after, channel=told.channel, off_neck=off_neck),)


def resumed(before: Voice, note_on: NoteOn, at_s: float, setup: StringsSetup, source: str) -> Heard:
    """The note that a flicker seemed to end sounds on, as if nothing had been."""
    assert before.told is not None
    again = note_of(note_on, before.told.note.sounding, at_s, setup, source)
    sounds_on = replace(before, number=note_on.pitch, ended_s=None, settled=True)
    return sounds_on, (filtered(again, note_on, Dirt.FLICKER),)


def note_of(note_on: NoteOn, sounding: int, at_s: float, setup: StringsSetup, source: str) -> PlayedNote:
    """The note of a note-on, the delay taken out."""
    return PlayedNote(
        started_s=at_s - setup.delay.of(sounding),
        sounding=sounding,
        place=setup.placed(note_on.channel, sounding)[0],
        velocity=note_on.velocity,
        source=source,
    )


def filtered(note: PlayedNote, note_on: NoteOn, dirt: Dirt) -> NoteFiltered:
    """A note that is never told."""
    return NoteFiltered(note=note, channel=note_on.channel, dirt=dirt)


def withdrawn(told: NoteStarted, dirt: Dirt) -> NoteRevised:
    """A note that was told and is taken back."""
    return NoteRevised(before=told.note, after=None, channel=told.channel, dirt=dirt)


def settled(voice: Voice, at_s: float) -> tuple[NoteSettled, ...]:
    """The end of the note, where it was not told before."""
    if voice.settled or voice.told is None:
        return ()
    return (NoteSettled(note=voice.told.note, channel=voice.told.channel, ended_s=at_s),)
