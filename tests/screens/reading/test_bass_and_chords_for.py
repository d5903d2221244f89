"""Bass and chords where a page has them."""

from dataclasses import replace

import pytest

from game.audio.sound import silence
from game.coach.stages import Pulse, Stage
from game.music.accompanying import Accompanied, Manner
from game.player.device_settings import MicrophoneSettings
from game.practice.take_request import TakeRequest, request_for
from game.screens.devices import StaticInstruments
from game.screens.reading.bass_and_chords_for import hear_passage
from game.screens.routes import ToPage
from game.text.catalogue import say
from tests.audio.lead_sheets import basses, chord
from tests.made import score


@pytest.fixture
def prepared(table, monkeypatch):
    """What the metronome is given beside its clicks, take by take."""
    table.context.devices.sound = silence()
    given = []
    prepare = table.context.devices.sound.metronome.prepare

    def noted(row, **kinds):
        given.append(kinds)
        prepare(row, **kinds)

    monkeypatch.setattr(table.context.devices.sound.metronome, "prepare", noted)
    return given


def tune(table) -> TakeRequest:
    """Eight bars whose first and fifth have chords, played whole in time."""
    made = score(*["F4 q, G4 q, A4 q, Bb4 q"] * 8, key=-1)
    symbols = {0: "F", 4: "C7"}
    bars = (
        replace(one, chords=(chord(symbols[index]),) if index in symbols else ()) for index, one in enumerate(made.bars)
    )
    whole = request_for(replace(made, bars=tuple(bars)), table.context.settings.neck_map()).whole_or_passages()
    return replace(whole, stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=100)


def known(table, request) -> TakeRequest:
    table.context.session.log.facts.mark_heard(request.passage)
    return request


def test_a_tune_played_whole_is_accompanied_and_bars_met_for_the_first_time_are_not(table, prepared):
    request = tune(table)
    table.go(ToPage(request, chosen=True))
    assert prepared[-1]["accompaniment"] == ()
    table.go(ToPage(known(table, request), chosen=True))
    band = prepared[-1]["accompaniment"]
    assert basses(band).startswith("0 F, 2 C, 4 F")
    assert basses(band).endswith("28 C, 30 G")
    assert prepared[-1]["accompanied_again"] is False
    table.go(ToPage(replace(request, looping=True), chosen=True))
    assert prepared[-1]["accompanied_again"] is True


def test_a_take_that_goes_on_from_a_later_bar_is_accompanied_from_there_under_the_chord_in_force(table, prepared):
    request = known(table, tune(table))
    table.go(ToPage(request, chosen=True))
    page = table.screen
    page.begin()
    table.wait(2.4 + 3 * 2.4 + 0.5)
    page.pause()
    assert page._start.index == 3
    assert basses(prepared[-1]["accompaniment"]).startswith("0 F, 2 C, 4 C, 6 G")


def test_pitches_only_and_first_sight_are_never_accompanied(table, prepared):
    """Though everything is wished that can be."""
    table.settle(accompanied=Accompanied.UPPER_RUNGS)
    request = known(table, tune(table))
    for other in (request.by_the_click(), replace(request.at_sight(), tempo_bpm=60), replace(request, fresh=True)):
        table.go(ToPage(other, chosen=True))
        assert prepared[-1]["accompaniment"] == ()
    table.settle(accompanied=Accompanied.NOTHING)
    table.go(ToPage(request, chosen=True))
    assert prepared[-1]["accompaniment"] == ()


def test_a_tune_is_heard_as_written_with_bass_and_chords_and_counts_as_heard(table, monkeypatch):
    heard = []
    sound = table.context.devices.sound = silence()
    monkeypatch.setattr(sound, "play", lambda lines, _, accompaniment: heard.append((lines, accompaniment)))
    table.settle(manner=Manner.FOUR_BEAT)
    passage = tune(table).passage
    hear_passage(table.context, passage, tempo_bpm=120)
    ((line,), band) = heard[-1]
    assert [note.onset_s for note in line.notes[:3]] == pytest.approx([0.0, 0.5, 1.0])
    assert basses(band.notes).startswith("0 F, 1 A, 2 C, 3 A")
    assert table.context.session.log.facts.has_heard(passage)
    part = replace(passage, start=5, stop=8)
    hear_passage(table.context, part)
    assert basses(heard[-1][1].notes).startswith("0 C, 1 E"), "under the chord in force"


def test_a_tune_that_says_bossa_is_accompanied_so(table, prepared):
    """On the page and beside it."""
    request = tune(table)
    passages = tuple(
        replace(one, score=replace(one.score, feel="Medium bossa", swung=False)) for one in request.passages
    )
    request = known(table, replace(request, passages=passages))
    table.go(ToPage(request, chosen=True))
    assert basses(prepared[-1]["accompaniment"]).startswith("0 F, 3/2 C, 2 F, 7/2 C")


def test_where_none_are_wished_bass_and_chords_go_on_unheard(table, monkeypatch):
    """So they come at once when they are wished after all."""
    sound = table.context.devices.sound = silence()
    monkeypatch.setattr(sound, "play", lambda *_, **__: None)
    table.settle(accompanied=Accompanied.NOTHING)
    hear_passage(table.context, tune(table).passage)
    assert (sound.volumes.guitar, sound.volumes.accompaniment) == (0.6, 0.0)
    table.settle(accompanied=Accompanied.UPPER_RUNGS)
    hear_passage(table.context, tune(table).passage)
    assert sound.volumes.accompaniment == 0.6


def test_a_take_that_a_microphone_hears_has_none_and_that_is_said_once_with_what_to_do(table, prepared):
    request = known(table, tune(table))
    table.settle(microphone="a card")
    table.go(ToPage(request, chosen=True))
    assert prepared[-1]["accompaniment"] == ()
    assert table.context.window.message == say("microphone.no_band")
    table.wait(9.0)
    table.go(ToPage(request, chosen=True))
    assert prepared[-1]["accompaniment"] == ()
    assert not table.context.message_shown or table.context.window.message != say("microphone.no_band")


def test_with_headphones_a_take_that_a_microphone_hears_is_accompanied(table, prepared):
    request = known(table, tune(table))
    table.settle(microphone="a card", microphones={"a card": MicrophoneSettings(headphones=True)})
    table.go(ToPage(request, chosen=True))
    assert prepared[-1]["accompaniment"]
    assert not table.context.message_shown or table.context.window.message != say("microphone.no_band")


def test_where_a_pickup_plays_instead_of_the_microphone_a_take_is_accompanied(table, prepared):
    request = known(table, tune(table))
    table.settle(microphone="a card")
    table.context.devices.instruments = StaticInstruments(present=True, taken_over=True)
    table.go(ToPage(request, chosen=True))
    assert prepared[-1]["accompaniment"]


def test_of_music_without_chords_nothing_is_missed_and_nothing_said(table, prepared):
    table.settle(microphone="a card")
    plain = request_for(score("F4 q, G4 q, A4 q, Bb4 q"), table.context.settings.neck_map()).whole_or_passages()
    table.go(ToPage(known(table, replace(plain, stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=100)), chosen=True))
    assert prepared[-1]["accompaniment"] == ()
    assert not table.context.message_shown or table.context.window.message != say("microphone.no_band")
