"""A MIDI guitar's messages become played notes: a fold over what the driver delivers. Pure.

StringsState(setup) -> (hear | passed)* -> finished
"""

from dataclasses import dataclass, replace
from typing import TypeVar

from game.instrument.decoding import voice as one_string
from game.instrument.decoding.channel import INITIAL_CHANNEL, Channel, announces_mpe, channel_after
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.messages import ControlChange, Message, NoteOff, NoteOn, PitchBend, decode
from game.instrument.decoding.played import NoteEvent, NoteFiltered, NoteStarted, OffNeck, PlayedNote
from game.instrument.decoding.sounding_notes import SILENCE, SoundingNotes
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import CHANNELS, StringsSetup
from game.instrument.decoding.voice import SILENT, Voice


@dataclass(frozen=True, slots=True)
class StringsState:
    """How the guitar reports, and where its strings are: `voices` and `channels` by channel less one.

    `others` are the notes on channels that carry no string; `is_mpe` once the device said that its channels
    are none.
    """

    setup: StringsSetup
    voices: tuple[Voice, ...] = (SILENT,) * CHANNELS
    channels: tuple[Channel, ...] = (INITIAL_CHANNEL,) * CHANNELS
    others: SoundingNotes = SILENCE
    is_mpe: bool = False


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
        if voice.resting is not None:
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
    channel = state.channels[index]
    sounding = message.pitch + round(channel.bent_semitones(setup.bend_semitones))
    if message.velocity < setup.limits.softest:
        return state, (_filtered(message, sounding, stamped, Dirt.SOFT),)
    events: tuple[NoteEvent, ...] = ()
    twin = _twin(state, index, sounding, at_s)
    if twin is not None:
        louder = state.voices[twin].told
        assert louder is not None
        if message.velocity <= louder.note.velocity:
            return state, (_filtered(message, sounding, stamped, Dirt.CROSS_TALK),)
        silenced, events = one_string.cross_talked(state.voices[twin])
        state = _with_voice(state, twin, silenced)
    voice, news = one_string.plucked(state.voices[index], message, sounding, at_s, setup, stamped.source)
    return _with_voice(state, index, voice), (*events, *news)


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
    was = state.channels[index]
    channel = Channel(message.bend, was.range_semitones, was.pedal, was.parameter)
    voice = state.voices[index]
    events: tuple[NoteEvent, ...] = ()
    if voice.sounding is not None:
        pitch = voice.number + channel.bent_semitones(state.setup.bend_semitones)
        voice, events = one_string.bent(voice, pitch, at_s, state.setup)
    return StringsState(
        state.setup,
        _with(state.voices, index, voice),
        _with(state.channels, index, channel),
        state.others,
        state.is_mpe,
    ), events


def _released(state: StringsState, message: NoteOff, at_s: float) -> _Heard:
    index = message.channel - 1
    voice = state.voices[index]
    if voice.sounding is None or voice.number != message.pitch:
        return state, ()
    if state.channels[index].pedal:
        return _with_voice(state, index, replace(voice, released_s=at_s)), ()
    voice, arrived = one_string.pass_time(voice, at_s, state.setup)
    voice, events = one_string.released(voice, at_s, state.setup)
    return _with_voice(state, index, voice), (*arrived, *events)


def _controlled(state: StringsState, message: ControlChange, at_s: float) -> _Heard:
    if message.silences:
        return _silenced(state, message.channel, at_s)
    index = message.channel - 1
    was = state.channels[index]
    channel = channel_after(was, message)
    is_mpe = announces_mpe(was, message)
    state = StringsState(
        state.setup,
        state.voices,
        _with(state.channels, index, channel),
        state.others,
        state.is_mpe if is_mpe is None else is_mpe,
    )
    if was.pedal and not channel.pedal and state.voices[index].released_s is not None:
        voice, events = one_string.released(state.voices[index], at_s, state.setup)
        return _with_voice(state, index, voice), events
    return state, ()


def _silenced(state: StringsState, channel: int, at_s: float) -> _Heard:
    others, elsewhere = state.others.end(channel=channel, at_s=at_s)
    voice, events = one_string.cut(state.voices[channel - 1], at_s)
    state = StringsState(state.setup, _with(state.voices, channel - 1, voice), state.channels, others, state.is_mpe)
    return state, (*elsewhere, *events)


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
    return StringsState(state.setup, state.voices, state.channels, others, state.is_mpe), events


def _with_voice(state: StringsState, index: int, voice: Voice) -> StringsState:
    return StringsState(state.setup, _with(state.voices, index, voice), state.channels, state.others, state.is_mpe)


_Item = TypeVar("_Item")


def _with(items: tuple[_Item, ...], index: int, item: _Item) -> tuple[_Item, ...]:
    return (*items[:index], item, *items[index + 1 :])
