"""A MIDI guitar's messages become played notes: a fold over what the driver delivers. Pure.

StringsState(setup) -> (hear | passed)* -> finished
"""

from dataclasses import dataclass, replace
from typing import TypeVar

from game.instrument.decoding import one_string
from game.instrument.decoding.bend_range import RESTS_S, BendAtRest, inferred_range, with_rest
from game.instrument.decoding.channel import FULL_BEND, INITIAL_CHANNEL, Channel, announces_mpe, channel_after
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.messages import ControlChange, Message, NoteOff, NoteOn, PitchBend, decode
from game.instrument.decoding.played import NoteEvent, NoteFiltered, NoteStarted, OffNeck, PlayedNote
from game.instrument.decoding.sounding_notes import SILENCE, SoundingNotes
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import CHANNELS, StringsSetup
from game.instrument.decoding.sympathy import rings_along
from game.instrument.decoding.voice import SILENT, Voice, arrived


@dataclass(frozen=True, slots=True)
class StringsState:
    """How the guitar reports, and where its strings are: `voices` and `channels` by channel less one.

    `others` are the notes on channels that carry no string; `is_mpe` once the device said that its channels
    are none. `rests` are the bends that came to rest, by which `inferred_semitones` was found: a full bend of a device
    that does not say how far it bends, None until its bends tell.
    """

    setup: StringsSetup
    voices: tuple[Voice, ...] = (SILENT,) * CHANNELS
    channels: tuple[Channel, ...] = (INITIAL_CHANNEL,) * CHANNELS
    others: SoundingNotes = SILENCE
    is_mpe: bool = False
    rests: tuple[BendAtRest, ...] = ()
    inferred_semitones: float | None = None

    @property
    def bend_semitones(self) -> float:
        """A full bend where the device did not send it."""
        return self.inferred_semitones or self.setup.bend_semitones


_Heard = tuple[StringsState, tuple[NoteEvent, ...]]


def hear(state: StringsState, stamped: StampedMessage) -> _Heard:
    """The state after a message, and what became of notes by it.

    Messages that are not about notes change nothing; a note-off for a note that does not sound neither.
    """
    message = decode(stamped.message)
    if message is None:
        return state, ()
    if isinstance(message, ControlChange):
        return _controlled(state, message, stamped.at_s)
    if state.setup.string_of(message.channel) is None:
        return _elsewhere(state, message, stamped)
    if isinstance(message, NoteOn):
        return _plucked(state, message, stamped)
    if isinstance(message, PitchBend):
        return _bent(state, message, stamped.at_s)
    return _released(state, message, stamped.at_s)


def pass_time(state: StringsState, now_s: float) -> _Heard:
    """The state as time passes, and the notes that became another by it."""
    events: tuple[NoteEvent, ...] = ()
    for index, voice in enumerate(state.voices):
        if voice.waits:
            after, news = one_string.pass_time(voice, now_s, state.setup)
            if news:
                state, events = _with_voice(state, index, after), (*events, *news)
    return state, events


def finish(state: StringsState, at_s: float) -> _Heard:
    """Nothing more comes: bends that rest have arrived, and every note is settled."""
    limits = state.setup.limits
    state, events = pass_time(state, at_s + limits.rest_s)
    for channel in range(1, CHANNELS + 1):
        state, ended = _silenced(state, channel, at_s)
        events = (*events, *ended)
    return state, events


def _plucked(state: StringsState, message: NoteOn, stamped: StampedMessage) -> _Heard:
    setup, index, at_s = state.setup, message.channel - 1, stamped.at_s
    state, events = _rested(state, index, at_s)
    channel = state.channels[index]
    sounding = message.pitch + round(channel.bent_semitones(state.bend_semitones))
    dirt = _dirt_at_once(state, message, sounding, at_s)
    if dirt is not None:
        return state, (*events, _filtered(message, sounding, stamped, dirt))
    state, silenced = _without_twin(state, index, sounding, at_s)
    voice, news = one_string.plucked(state.voices[index], message, sounding, at_s, setup, stamped.source)
    state = _with_voice(state, index, voice)
    if channel.bend_at_pluck != channel.bend:
        state = _with_channel(state, index, replace(channel, bend_at_pluck=channel.bend))
    return state, (*events, *silenced, *news)


def _dirt_at_once(state: StringsState, message: NoteOn, sounding: int, at_s: float) -> Dirt | None:
    """What is clear of a note-on at once: too soft, or another string's."""
    setup, index = state.setup, message.channel - 1
    if message.velocity < setup.limits.softest:
        return Dirt.SOFT
    twin = _twin(state, index, sounding, at_s)
    if twin is not None:
        louder = state.voices[twin].told
        if louder is not None and message.velocity <= louder.note.velocity:
            return Dirt.CROSS_TALK
    if rings_along(state.voices, message.channel, message.velocity, sounding, at_s, setup):
        return Dirt.SYMPATHETIC
    return None


def _without_twin(state: StringsState, index: int, sounding: int, at_s: float) -> _Heard:
    """The state without the softer of two strings in cross-talk."""
    twin = _twin(state, index, sounding, at_s)
    if twin is None:
        return state, ()
    silenced, events = one_string.cross_talked(state.voices[twin])
    return _with_voice(state, twin, silenced), events


def _filtered(message: NoteOn, sounding: int, stamped: StampedMessage, dirt: Dirt) -> NoteFiltered:
    note = PlayedNote(
        started_s=stamped.at_s, sounding=sounding, place=None, velocity=message.velocity, source=stamped.source
    )
    return NoteFiltered(note=note, channel=message.channel, dirt=dirt)


def _twin(state: StringsState, index: int, sounding: int, at_s: float) -> int | None:
    """The other string on which the same pitch was plucked just now."""
    within_s = state.setup.limits.cross_talk_s
    for other in state.setup.channels:
        voice = state.voices[other - 1]
        told = voice.told
        if told is None or voice.taken_back or other - 1 == index or told.note.sounding != sounding:
            continue
        if at_s - voice.on_s < within_s:
            return other - 1
    return None


def _bent(state: StringsState, message: PitchBend, at_s: float) -> _Heard:
    index = message.channel - 1
    state, events = _rested(state, index, at_s)
    channel = state.channels[index].bent(message.bend, at_s)
    voice = state.voices[index]
    if voice.sounding is not None:
        voice, news = one_string.pass_time(voice, at_s, state.setup) if voice.waits else (voice, ())
        pitch = voice.number + channel.bent_semitones(state.bend_semitones)
        voice = one_string.bent(voice, pitch, at_s, state.setup)
        events = (*events, *news)
    changed = StringsState(
        state.setup,
        _with(state.voices, index, voice),
        _with(state.channels, index, channel),
        state.others,
        state.is_mpe,
        state.rests,
        state.inferred_semitones,
    )
    return changed, events


def _rested(state: StringsState, index: int, at_s: float) -> _Heard:
    """The state as a bend is left or a note ends: where the bend had come to rest, that may tell how far it bends, and
    what the notes before were that came to rest so.
    """
    channel, voice = state.channels[index], state.voices[index]
    rest_s = at_s - channel.bent_s
    if channel.bend == channel.bend_at_pluck or rest_s < RESTS_S or channel.range_semitones is not None:
        return state, ()
    told = voice.told
    if told is None or voice.ended_s is not None:
        return state, ()
    if not 0 < channel.bent_s - voice.on_s <= state.setup.limits.bend_arrives_s:
        return state, ()
    share = (channel.bend - channel.bend_at_pluck) / FULL_BEND
    rest = BendAtRest(share, channel.bend / FULL_BEND, voice.number, told, voice.on_s, channel.bent_s)
    state = replace(state, rests=with_rest(state.rests, rest))
    inferred = inferred_range(state.rests, state.bend_semitones)
    return (state, ()) if inferred is None else _inferred(state, inferred)


def _inferred(state: StringsState, semitones: float) -> _Heard:
    """The state with a range found out, and the notes that turn out to have slid by it."""
    events: tuple[NoteEvent, ...] = ()
    voices = state.voices
    for rest in state.rests:
        sounding = rest.number + round(rest.bend_share * semitones)
        if sounding == rest.told.note.sounding:
            continue
        index = rest.told.channel - 1
        slid = voices[index] if voices[index].told is rest.told else Voice(rest.told, on_s=rest.on_s)
        after, news = arrived(slid, rest.told, sounding, rest.since_s, state.setup)
        events = (*events, *news)
        if slid is voices[index]:
            voices = _with(voices, index, after)
    return replace(state, voices=voices, inferred_semitones=semitones, rests=()), events


def _released(state: StringsState, message: NoteOff, at_s: float) -> _Heard:
    index = message.channel - 1
    state, events = _rested(state, index, at_s)
    voice = state.voices[index]
    if voice.sounding is None:
        return state, events
    if state.channels[index].pedal and voice.number == message.pitch:
        return _with_voice(state, index, replace(voice, released_s=at_s)), events
    voice, news = one_string.released(voice, message.pitch, at_s, state.setup)
    return _with_voice(state, index, voice), (*events, *news)


def _controlled(state: StringsState, message: ControlChange, at_s: float) -> _Heard:
    if message.silences:
        return _silenced(state, message.channel, at_s)
    index = message.channel - 1
    was = state.channels[index]
    channel = channel_after(was, message)
    is_mpe = announces_mpe(was, message)
    state = _with_channel(state, index, channel)
    if is_mpe is not None:
        state = replace(state, is_mpe=is_mpe)
    voice = state.voices[index]
    if was.pedal and not channel.pedal and voice.released_s is not None:
        voice, events = one_string.released(voice, voice.number, at_s, state.setup)
        return _with_voice(state, index, voice), events
    return state, ()


def _silenced(state: StringsState, channel: int, at_s: float) -> _Heard:
    state, rested = _rested(state, channel - 1, at_s)
    others, elsewhere = state.others.end(channel=channel, at_s=at_s)
    voice, events = one_string.silenced(state.voices[channel - 1], at_s, state.setup)
    return replace(_with_voice(state, channel - 1, voice), others=others), (*rested, *elsewhere, *events)


def _elsewhere(state: StringsState, message: Message, stamped: StampedMessage) -> _Heard:
    """A channel that is no string's. It may carry chords: only the same pitch gives way."""
    events: tuple[NoteEvent, ...]
    if isinstance(message, NoteOn):
        others, events = state.others.end(channel=message.channel, at_s=stamped.at_s, pitch=message.pitch)
        note = PlayedNote(
            started_s=stamped.at_s,
            sounding=message.pitch,
            place=None,
            velocity=message.velocity,
            source=stamped.source,
        )
        started = NoteStarted(note=note, channel=message.channel, off_neck=OffNeck.NO_STRING)
        others, events = others.begin(started), (*events, started)
    else:
        others, events = state.others.end_by(message, at_s=stamped.at_s)
    return replace(state, others=others), events


def _with_voice(state: StringsState, index: int, voice: Voice) -> StringsState:
    # Written out, for `dataclasses.replace` costs more than all the rest of a message.
    return StringsState(
        state.setup,
        _with(state.voices, index, voice),
        state.channels,
        state.others,
        state.is_mpe,
        state.rests,
        state.inferred_semitones,
    )


def _with_channel(state: StringsState, index: int, channel: Channel) -> StringsState:
    return replace(state, channels=_with(state.channels, index, channel))


_Item = TypeVar("_Item")


def _with(items: tuple[_Item, ...], index: int, item: _Item) -> tuple[_Item, ...]:
    return (*items[:index], item, *items[index + 1 :])
