"""Notes that ring together on channels that stand for no strings, and which of them a bend moves. Pure.

A bend is said of a channel (MIDI 1.0), but a hand bends a string. The note plucked last is the one that slides; what
rang before stays where it was. Of notes plucked together nobody can tell which one it is, so none is moved.
"""

from dataclasses import dataclass, replace

from game.instrument.decoding.delay import Delay
from game.instrument.decoding.played import NoteRevised, NoteSettled, NoteStarted

TOGETHER_S = 0.040
"""Notes plucked so near each other are a chord (ours)."""


@dataclass(frozen=True, slots=True)
class Ringing:
    """A note that rings, as it was `told` last. `number` is the MIDI number its note-off will have, `on_s` when the
    device told it, `bend_at_pluck` the bend of its channel then; `repeats` when it began while the same pitch rang;
    `resting` the pitch a bend is at, and since when.
    """

    told: NoteStarted
    number: int
    on_s: float
    bend_at_pluck: int = 0
    repeats: bool = False
    resting: tuple[int, float] | None = None

    def settled(self, at_s: float) -> NoteSettled:
        """Its end, as the device told it."""
        return NoteSettled(note=self.told.note, channel=self.told.channel, ended_s=at_s)

    def arrived(self, sounding: int, since_s: float, delay: Delay) -> tuple["Ringing", NoteRevised]:
        """The note once a bend has been at rest at another pitch since a time of the device."""
        told, delay_s = self.told, delay.of(sounding)
        after = replace(told.note, started_s=self.on_s - delay_s, sounding=sounding, arrived_s=since_s - delay_s)
        revised = NoteRevised(before=told.note, after=after, channel=told.channel)
        return Ringing(replace(told, note=after), self.number, self.on_s, self.bend_at_pluck, self.repeats), revised


def bent_by(ringing: tuple[Ringing, ...], channel: int) -> Ringing | None:
    """The note that a bend of a channel moves, of those that ring, oldest first; None where there is none, or where
    more than one was plucked at that moment.
    """
    there = [one for one in ringing if one.told.channel == channel]
    if not there:
        return None
    together = sum(there[-1].on_s - one.on_s < TOGETHER_S for one in there)
    return there[-1] if together == 1 else None


def ended(
    ringing: tuple[Ringing, ...], channel: int, number: int | None = None
) -> tuple[tuple[Ringing, ...], tuple[Ringing, ...]]:
    """What rings on when the notes of a channel end (of one MIDI number there, where `number` is given), and those."""
    ends = tuple(one for one in ringing if one.told.channel == channel and number in (None, one.number))
    return (tuple(one for one in ringing if one not in ends), ends) if ends else (ringing, ())
