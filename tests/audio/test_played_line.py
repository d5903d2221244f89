"""Lines played back, and single notes on request."""

import numpy as np
import pytest
from pygame import mixer

from game.audio.blocks import render
from game.audio.output import CHANNELS, NOTE_CHANNELS, SoundOutput, SoundStatus
from game.audio.played_line import PlayedLine, SoundedNote, StringPlayer, line_blocks
from game.audio.pluck import PluckedStrings
from game.clock import HandClock
from game.errors import AudioError
from tests.audio.card import Card
from tests.refusing import refusal

RATE = 44100
LEAD_IN = 4410


def heard(*lines: PlayedLine) -> np.ndarray:
    return np.concatenate([render(block, rate=RATE) for block in line_blocks(lines, PluckedStrings(RATE))])


def line(*notes: tuple[float, int], velocity: int = 127) -> PlayedLine:
    return PlayedLine(
        notes=tuple(SoundedNote(onset_s=onset_s, sounding=sounding, velocity=velocity) for onset_s, sounding in notes),
    )


def test_each_note_begins_at_its_sample():
    sound = heard(line((0.0, 60), (3.0, 64)))
    first = np.flatnonzero(sound[:, 0])
    assert first[0] - 1 == LEAD_IN
    assert not sound[LEAD_IN + int(2.1 * RATE) : LEAD_IN + 3 * RATE].any()
    assert sound[LEAD_IN + 3 * RATE + 1, 0] != 0


def test_a_note_is_damped_when_the_next_begins():
    alone, followed = heard(line((0.0, 60))), heard(line((0.0, 60), (0.5, 67)))
    only_second = heard(line((0.5, 67)))
    here = LEAD_IN + RATE // 2
    assert np.array_equal(alone[: here + 1], followed[: here + 1])
    damped = here + int(0.031 * RATE)
    assert np.array_equal(followed[damped:], only_second[damped:])


def test_two_lines_are_heard_together_each_as_if_it_were_alone():
    both = heard(line((0.0, 60)), line((0.5, 72))).astype(int)
    first, second = (heard(one).astype(int) for one in (line((0.0, 60)), line((0.5, 72))))
    alone = np.zeros_like(both)
    alone[: len(first)] += first
    alone[: len(second)] += second
    assert np.abs(both - alone).max() <= 1


def test_a_softer_note_sounds_softer():
    loud, soft = heard(line((0.0, 60))), heard(line((0.0, 60), velocity=64))
    assert np.abs(soft).max() == pytest.approx(np.abs(loud).max() * (64 / 127) ** 2, rel=0.01)


def test_cut_into_blocks_a_long_line_is_the_same_as_in_one_piece():
    notes = [(0.31 * index, 50 + index % 12) for index in range(60)]
    sound = heard(line(*notes))
    blocks = list(line_blocks([line(*notes)], PluckedStrings(RATE)))
    assert len(blocks) > 8
    strikes = {id(strike.wave): strike for block in blocks for strike in block.strikes}
    assert len(strikes) == 12
    assert [block.start for block in blocks[1:]] == [block.stop for block in blocks[:-1]]
    for index, (onset_s, _) in enumerate(notes[1:], start=1):
        here = LEAD_IN + round(onset_s * RATE)
        assert np.abs(np.diff(sound[here - 300 : here, 0].astype(int))).max() < 8000, f"no crack before note {index}"


def test_pitches_no_string_reaches_are_left_out_of_a_line():
    assert np.array_equal(heard(line((0.0, 60), (1.0, 120))), heard(line((0.0, 60))))


def test_a_long_rest_is_cut_into_blocks_too():
    blocks = list(line_blocks([line((0.0, 60), (60.0, 62))], PluckedStrings(RATE)))
    assert max(block.stop - block.start for block in blocks) <= 4.1 * RATE


def test_a_line_without_notes_is_nothing_at_all():
    assert list(line_blocks([PlayedLine(notes=())], PluckedStrings(RATE))) == []


def test_the_player_tells_when_the_line_begins_and_ends_with_it(audible: SoundOutput):
    clock = HandClock(5.0)
    card = Card(clock)
    player = StringPlayer(audible, volume=0.5, channel=lambda: card)
    onset_0_s = player.play([line((0.0, 60))], clock, pause=clock.advance)
    assert onset_0_s == pytest.approx(card.heard[0][0] / RATE + 0.1, abs=0.0003)
    assert card.volume == 0.25
    assert player.playing
    for _ in range(200):
        clock.advance(1 / 60)
        player.tick(clock.now_s())
    assert not player.playing


def test_a_note_on_request_sounds_on_a_channel_of_its_own(audible: SoundOutput):
    mixer.set_num_channels(CHANNELS)
    player = StringPlayer(audible)
    player.make_ready([60, 62])
    metronome = mixer.Sound(buffer=bytes(4 * RATE * 60))
    mixer.Channel(0).play(metronome)
    player.pluck(60)
    for _ in range(20):
        player.pluck(62, velocity=100)
    assert mixer.Channel(0).get_sound() is metronome, "not even many notes take the metronome's"
    assert player.status is SoundStatus.SOUNDING
    with refusal(AudioError, "the pitch 12 cannot be sounded"):
        player.pluck(12)


def test_the_pen_touches_once_softer_than_a_string(audible: SoundOutput):
    mixer.set_num_channels(CHANNELS)
    player = StringPlayer(audible, volume=0.5)
    player.touch()
    busy = [index for index in range(CHANNELS) if mixer.Channel(index).get_busy()]
    assert len(busy) == 1
    assert busy[0] in NOTE_CHANNELS
    assert mixer.Channel(busy[0]).get_volume() == pytest.approx(0.25, abs=0.01)


def test_lines_and_notes_sound_as_long_as_the_card_has_them(audible: SoundOutput):
    mixer.set_num_channels(CHANNELS)
    card = Card(HandClock(3.0))
    player = StringPlayer(audible, channel=lambda: card)
    assert not player.sounding
    player.play([line((0.0, 69))], card.clock, pause=card.clock.advance)
    assert player.sounding
    card.clock.advance(3.0)
    assert not player.sounding, "though no frame has seen it end"
    player.pluck(60)
    assert player.sounding
    mixer.stop()
    assert not player.sounding
    mixer.quit()
    assert not player.sounding


def test_without_a_device_notes_and_lines_are_silent_and_nothing_fails():
    player = StringPlayer(SoundOutput())
    player.pluck(60)
    player.touch()
    clock = HandClock(1.0)
    player.play([line((0.0, 60))], clock)
    player.tick(1.0)
    player.stop()
    assert not player.playing
    assert player.status is SoundStatus.NO_DEVICE
