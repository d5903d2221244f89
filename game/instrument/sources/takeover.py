"""A guitar with a pickup that is heard by a microphone as well: one of the two counts. Pure.

The pickup knows more, so its first note takes over from the microphone. Taken out, it gives back, in the middle of a
take too. What the microphone told already of the pluck that the pickup tells now is taken back.
"""

from dataclasses import dataclass, replace

from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.played import NoteRevised, NoteStarted
from game.instrument.ports.device_changes import DeviceChange, DeviceLost
from game.instrument.ports.live_instrument import LiveEvent

SAME_PLUCK_S = 0.15
"""A pickup tells a note at most so much later than a microphone, or earlier: their delays differ by tens of
milliseconds, on low strings by one more period (ours).
"""


@dataclass(frozen=True, slots=True)
class Takeover:
    """`pickup` is the device that took over, None while the microphone counts; `heard` what it told last, while it
    did.
    """

    pickup: str | None = None
    heard: NoteStarted | None = None


def after_pickup(takeover: Takeover, event: LiveEvent) -> tuple[Takeover, tuple[LiveEvent, ...]]:
    """What an instrument that is plugged in plays goes on as it is; with its first note the microphone is silent."""
    if not isinstance(event, NoteStarted):
        return takeover, (event,)
    after, heard = Takeover(pickup=event.note.source), takeover.heard
    if heard is None or abs(event.note.started_s - heard.note.started_s) > SAME_PLUCK_S:
        return after, (event,)
    return after, (NoteRevised(before=heard.note, after=None, channel=heard.channel, dirt=Dirt.DOUBLED), event)


def after_heard(takeover: Takeover, event: LiveEvent) -> tuple[Takeover, tuple[LiveEvent, ...]]:
    """What a microphone heard goes on while no pickup plays."""
    if takeover.pickup is not None:
        return takeover, ()
    if isinstance(event, NoteStarted):
        takeover = replace(takeover, heard=event)
    elif isinstance(event, NoteRevised) and takeover.heard is not None and event.before == takeover.heard.note:
        after = event.after
        takeover = replace(takeover, heard=None if after is None else replace(takeover.heard, note=after))
    return takeover, (event,)


def after_change(takeover: Takeover, change: DeviceChange) -> Takeover:
    """A pickup that is taken out gives back. By which way one was heard, its own name or our port, only `was_playing`
    tells.
    """
    gone = isinstance(change, DeviceLost) and (change.was_playing or change.name == takeover.pickup)
    return Takeover() if gone and takeover.pickup is not None else takeover
