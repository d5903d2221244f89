"""Instruments are set up, measured and commanded by playing them."""

from random import Random

import pygame
import pytest

from game.coach.stages import Stage
from game.instrument.decoding.delay import period_s
from game.instrument.decoding.dirt import NO_LIMITS
from game.judging.verdicts import Verdict
from game.neck.tuning import STANDARD, Place
from game.player.settings import DeviceSettings, InstrumentKind, Settings
from game.player.settings_file import load
from game.screens.routes import ToDelay, ToInstruments, ToMap, ToPage, ToSetUp
from tests.screens.plugged_in import NAME, Plugged
from tests.screens.table import Table

OPEN = tuple(Place(string, 0) for string in (6, 5, 4, 3, 2, 1, 6))


@pytest.fixture
def pickup(table):
    return Plugged(table)


def test_a_guitar_nobody_has_set_up_is_told_how(pickup):
    assert "I on the shelf sets it up" in pickup.table.context.window.message


def test_six_open_strings_and_a_slide_set_a_guitar_up_and_it_is_kept_by_its_name(table):
    pickup = Plugged(table, channels=(16, 15, 14, 13, 12, 11))
    table.key(pygame.K_i)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "SetUpScreen"
    for place in OPEN:
        pickup.pluck(place)
    assert "Slide" in table.screen.words
    pickup.send(0x9F, 69, 80)
    for step in range(1, 11):
        bend = 8192 + 1365 * step // 10
        pickup.send(0xEF, bend & 0x7F, bend >> 7)
    table.wait(1.5)
    assert "channels 11 to 16" in table.screen.words
    kept = load(table.context.session.profile.settings_path).settings.devices[NAME]
    assert (kept.channels, kept.bend_semitones) == ((16, 15, 14, 13, 12, 11), 12)


def test_what_was_set_up_is_how_notes_are_read(table):
    pickup = Plugged(table, channels=(16, 15, 14, 13, 12, 11))
    device = DeviceSettings(channels=(16, 15, 14, 13, 12, 11))
    table.context.change_settings(Settings(devices={NAME: device}))
    table.open("F4 h, G4 h")
    home = table.context.settings.neck_map().home_of(53).place
    pickup.pluck(home)
    assert [verdict.verdict for verdict in table.screen.take.answered] == [Verdict.CLEAN]


def test_a_guitar_on_one_channel_is_judged_by_pitch_and_that_is_said(table):
    pickup = Plugged(table, channels=(1,) * 6)
    table.go(ToSetUp(NAME))
    for place in OPEN:
        pickup.pluck(place)
    assert "places are not" in table.screen.words
    assert table.context.settings.devices[NAME].channels is None
    table.open("F4 h, G4 h")
    pickup.pluck(Place(1, 0))
    assert table.screen.take.pitch_only


def test_a_guitar_tuned_lower_changes_the_tuning_of_the_map(table, pickup):
    table.go(ToSetUp(NAME))
    pickup.send(0x95, 38, 80)
    table.wait(0.3)
    pickup.send(0x85, 38, 0)
    for place in OPEN[1:6]:
        pickup.pluck(place)
    pickup.send(0x95, 38, 80)
    table.wait(0.3)
    table.key(pygame.K_SPACE)
    assert table.context.settings.tuning == "drop-d"


def test_strings_that_contradict_each_other_are_asked_for_again(table, pickup):
    table.go(ToSetUp(NAME))
    for place in (OPEN[0], OPEN[0], *OPEN[2:]):
        pickup.pluck(place)
    table.key(pygame.K_SPACE)
    assert table.screen._trouble
    assert table.screen.set_up.asked == 6
    assert NAME not in table.context.settings.devices


def test_the_delay_is_measured_along_with_the_click_and_taken_out_of_every_note(table, pickup):
    """Three periods of the pitch, and a player who leans 20 ms early: the lean stays in."""
    table.go(ToDelay(NAME))
    rng = Random(5)
    for string, sounding in ((6, 40), (1, 64)):
        table.key(pygame.K_SPACE)
        onset_s, number = table.screen._onset_s, 0
        while table.screen._onset_s is not None:
            due_s = onset_s + 0.75 * number - 0.02 + 3 * period_s(sounding) + rng.gauss(0, 0.005)
            table.clock.advance(max(0.001, due_s - table.clock.now_s()))
            pickup.driver.play("Guitar:Guitar MIDI 1 24:0", [0x90 | string - 1, sounding, 80])
            table.wait(0.3, frame_s=0.1)
            number += 1
            assert number < 40
    kept = table.context.settings.devices[NAME]
    assert kept.calibrated
    assert kept.periods == pytest.approx(3.0, abs=0.45)
    assert kept.constant_ms == 0
    assert "your own lean" in table.screen.words


def test_plucks_that_do_not_go_with_the_click_change_nothing(table, pickup):
    table.go(ToDelay(NAME))
    rng = Random(6)
    for string, sounding in ((6, 40), (1, 64)):
        table.key(pygame.K_SPACE)
        while table.screen._onset_s is not None:
            table.wait(rng.uniform(0.2, 1.1), frame_s=0.1)
            pickup.driver.play("Guitar:Guitar MIDI 1 24:0", [0x90 | string - 1, sounding, 80])
    assert NAME not in table.context.settings.devices
    assert "nothing is changed" in table.screen.words


def test_a_ghost_on_the_page_is_judged_and_then_forgotten(table, pickup):
    table.open("F4 h, G4 h")
    pickup.pluck(Place(2, 3), lasts_s=0.001)
    assert table.screen.take.tries == ()
    assert not table.screen.view.marks
    table.play(53)
    assert table.screen.take.answered[0].verdict is Verdict.CLEAN


def test_a_slide_to_the_written_note_is_the_written_note(table, pickup):
    """F in position V is string 4 fret 3 on no map: it is string 5 fret 8."""
    table.open("F4 h, G4 h")
    pickup.send(0x94, 51, 80)
    pickup.send(0x94, 52, 80)
    pickup.send(0x94, 53, 80)
    table.wait(0.2)
    assert [verdict.verdict for verdict in table.screen.take.answered] == [Verdict.CLEAN]


def test_unfiltered_everything_counts_as_it_comes(table, pickup):
    table.context.change_settings(Settings(limits=NO_LIMITS))
    table.open("F4 h, G4 h")
    pickup.pluck(Place(2, 3), lasts_s=0.001)
    assert len(table.screen.take.tries) == 1


def test_a_ghost_on_the_free_string_commands_nothing(table, pickup):
    table.open("F4 h, G4 h")
    for _ in range(2):
        pickup.pluck(Place(6, 0), lasts_s=0.001)
        table.wait(0.1)
    table.wait(1.0)
    assert table.screen_name == "PlacesPage"


def test_a_pedal_asks_for_help_and_ends_the_take(table, pickup):
    table.open("F4 h, G4 h")
    pickup.press_pedal()
    assert len(table.screen.view.marks) == 1
    table.play(53)
    pickup.press_pedal(times=2)
    assert table.screen_name == "ResultScreen"


def test_a_pedal_shows_and_marks_the_notes_of_an_ordinary_guitar(tmp_path):
    table = Table(tmp_path, Settings(instrument=InstrumentKind.NO_PICKUP))
    pickup = Plugged(table)
    table.open("F4 h, G4 h")
    for presses in (1, 1, 1, 2):
        pickup.press_pedal(times=presses)
    assert table.screen_name == "ResultScreen"
    verdicts = [verdict.verdict for verdict in table.screen.finished.judgement.verdicts]
    assert verdicts[0] is Verdict.CLEAN
    assert verdicts[1] is not Verdict.CLEAN


def test_another_pedal_is_learned_by_pressing_it(table, pickup):
    table.go(ToInstruments())
    table.key(pygame.K_p)
    pickup.send(0xB0, 4, 127)
    assert 4 in table.context.settings.pedals


def test_the_list_follows_what_is_played_and_a_device_can_be_the_only_one(table, pickup):
    table.go(ToInstruments())
    pickup.pluck(Place(2, 5))
    assert "string 2, fret 5" in table.screen._last_words()
    table.key(pygame.K_l)
    assert table.context.settings.device == NAME
    table.key(pygame.K_l)
    assert table.context.settings.device == ""


def test_a_forgotten_device_is_taken_for_a_guitar_as_most_are(table):
    table.context.change_settings(Settings(devices={NAME: DeviceSettings()}))
    table.go(ToInstruments())
    table.key(pygame.K_BACKSPACE)
    assert not table.context.settings.devices


def test_a_ghost_moves_no_home_and_a_whole_map_is_set_up_by_playing_it_from_bottom_to_top(table, pickup):
    table.go(ToMap())
    pickup.pluck(Place(3, 2), lasts_s=0.001)
    assert not table.context.settings.choices
    low = [Place(string, fret) for string in (6, 5) for fret in (7, 8, 9)]
    for place in low:
        pickup.pluck(place)
    homes = table.context.settings.neck_map().places
    assert [homes[STANDARD.sounding(place)] for place in low] == low


def test_at_ones_own_pace_the_time_an_instrument_is_away_counts_for_nothing(table, pickup):
    request = table.open("F4 q, G4 q, A4 q, Bb4 q", "C5 w").in_stage(Stage.TIME)
    table.go(ToPage(request, chosen=True))
    places = [table.context.settings.neck_map().home_of(note.sounding).place for note in table.screen.take.expected]
    for place in places[:2]:
        pickup.pluck(place, lasts_s=0.46)
    pickup.pull_out()
    table.wait(12.0)
    assert table.screen_name == "FreePage"
    pickup.plug_in()
    for place in places[2:]:
        pickup.pluck(place, lasts_s=0.46)
    table.wait(2.0)
    assert table.screen_name == "ResultScreen"
    counts = table.screen.finished.summary.counts
    assert counts[Verdict.MISSED] == counts[Verdict.UNREAD] == 0
    assert not [event for event in table.screen.finished.judgement.events if event.kind.value == "stop"]


def test_against_the_click_the_take_goes_on_from_the_bar_it_was_in(table, pickup):
    request = table.open("F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 q, G4 q")
    request = request.in_stage(Stage.TIME)
    table.go(ToPage(request.told(_at_60(request)), chosen=True))
    page = table.screen
    page.begin()
    for note in page.take.expected[:6]:
        table.wait(max(0.0, page.take.zero_s + page.take._grid.onsets_s[note.n - 1] - table.clock.now_s()))
        pickup.pluck(note.home.place, lasts_s=0.2)
    pickup.pull_out()
    assert not page.running
    table.wait(3.0)
    pickup.plug_in()
    pickup.pluck(page.take.expected[4].home.place)
    assert page.running
    for note in page.take.expected[4:]:
        table.wait(max(0.0, page.take.zero_s + page.take._grid.onsets_s[note.n - 1] - table.clock.now_s()))
        pickup.pluck(note.home.place, lasts_s=0.2)
    table.wait(2.5)
    assert table.screen_name == "ResultScreen"
    counts = table.screen.finished.summary.counts
    assert counts[Verdict.MISSED] == counts[Verdict.WRONG_PITCH] == 0


def _at_60(request):
    from game.coach.decisions import Decision, Offer
    from game.coach.stages import Pulse

    return Decision(offer=Offer.AGAIN, stage=request.stage, pulse=Pulse.METRONOME, tempo_bpm=60, reason=(), passage="x")
