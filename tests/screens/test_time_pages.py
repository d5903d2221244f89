"""The stages `rhythm` and `time` on screen, free and with the metronome."""

from dataclasses import replace
from itertools import pairwise

import pygame
import pytest

from game.audio.sound import silence
from game.coach.stages import Pulse, Stage
from game.judging.verdicts import EventKind, Verdict
from game.music.written import HeadId
from game.neck.tuning import Place
from game.practice.pencilled import NameMark, PlayedHead
from game.screens.reading.playback_lines import playback_lines
from game.screens.reading.still_music import StillMusic
from game.screens.routes import ToPage
from tests.screens.table import Table

ROWS = ("F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 h")
SOUNDINGS = (53, 55, 57, 58, 60, 58, 57)


def metronome_page(table, *, tempo=100, stage=Stage.TIME, **changes):
    request = table.open(*ROWS, key=-1)
    request = replace(request, stage=stage, pulse=Pulse.METRONOME, tempo_bpm=tempo, **changes)
    table.go(ToPage(request, chosen=True))
    return table.screen


def free_page(table, stage=Stage.TIME):
    request = table.open(*ROWS, key=-1).in_stage(stage)
    table.go(ToPage(request, chosen=True))
    return table.screen


def words(table):
    return [v.verdict.value for v in table.screen.finished.judgement.verdicts]


def test_a_take_in_time_is_clean_and_its_lean_is_told_in_words(table):
    metronome_page(table)
    table.play_in_time(offset_s=-0.03)
    table.wait(2.0)
    assert words(table) == ["clean"] * 7
    finished = table.screen.finished
    assert finished.summary.bias_ms == pytest.approx(-30, abs=0.5)
    assert "You lean early." in table.screen._summary
    assert finished.tempo_bpm == 100


def test_the_first_note_at_its_home_after_a_second_of_silence_begins_the_count_in(table):
    page = metronome_page(table)
    table.play(57)
    assert not page.running
    table.play(53)
    assert not page.running
    table.wait(1.1)
    table.play(53, Place(4, 3))
    assert not page.running
    table.wait(1.1)
    table.play(53)
    assert page.running


def test_the_count_in_is_a_bar_and_is_counted_on_the_page(table):
    page = metronome_page(table)
    page.begin()
    assert page.take.position(table.clock.now_s()) == pytest.approx(-4, abs=0.5)
    counted = []
    for _ in range(240):
        table.wait(0.01, 0.01)
        if page.view.beat and page.take.position(table.clock.now_s()) < 0:
            counted.append(page.view.beat)
    assert list(dict.fromkeys(counted)) == ["1", "2", "3", "4"]


def test_a_bar_is_pencilled_only_when_it_has_been_left(table):
    page = metronome_page(table)
    table.play_in_time(wrong={2}, until=4)
    assert page.view.marks == []
    assert page.view.colours == {}
    table.wait(0.8 + 0.3)
    assert [mark.head for mark in page.view.marks] == [HeadId(0, 1)]
    assert isinstance(page.view.marks[0].mark, PlayedHead)
    assert set(page.view.colours) == {HeadId(0, 0), HeadId(0, 2), HeadId(0, 3)}


def test_a_take_nobody_plays_in_is_no_take(table):
    page = metronome_page(table)
    page.begin()
    table.wait(9.0)
    assert table.screen_name == "ShelfScreen"


def test_stopping_half_way_leaves_the_rest_unread(table):
    metronome_page(table)
    table.play_in_time(until=3)
    table.wait(0.3)
    table.key(pygame.K_ESCAPE)
    assert words(table)[:3] == ["clean"] * 3
    assert set(words(table)[4:]) == {"unread"}


def test_a_pause_counts_in_again_to_the_bar_that_was_interrupted(table):
    page = metronome_page(table)
    table.play_in_time(until=5)
    table.wait(0.1)
    table.key(pygame.K_p, "p")
    assert not page.running
    assert "bar 2" in page.view.status
    table.wait(20.0)
    page.begin()
    assert page.take.position(table.clock.now_s()) == pytest.approx(0, abs=0.5)
    for n in (5, 6, 7):
        due_s = page.take.zero_s + page.take._grid.onsets_s[n - 1]
        table.wait(due_s - table.clock.now_s())
        table.play(SOUNDINGS[n - 1])
    table.wait(3.0)
    assert words(table) == ["clean"] * 7
    assert [event.kind for event in table.screen.finished.judgement.events] == [EventKind.RESTART]
    assert not table.screen.finished.summary.kept_going


def test_going_back_a_bar_reads_it_again(table):
    page = metronome_page(table)
    table.play_in_time(until=6)
    table.key(pygame.K_BACKSPACE)
    assert "bar 1" in page.view.status
    assert page.view.colours == {}


def test_in_rhythm_any_note_will_do(table):
    page = metronome_page(table, stage=Stage.RHYTHM)
    page.begin()
    for note in page.take.expected:
        table.wait(page.take.zero_s + page.take._grid.onsets_s[note.n - 1] - table.clock.now_s())
        table.play(50)
    table.wait(2.0)
    assert words(table) == ["clean"] * 7


def test_one_written_note_a_click_leaves_the_rhythm_out(table):
    page = metronome_page(table, one_a_click=True, stage=Stage.PLACES)
    table.play_in_time()
    onsets = page.take._grid.onsets_s
    assert [round(after - before, 3) for before, after in pairwise(onsets)] == [0.6] * 6
    table.wait(2.0)
    assert words(table) == ["clean"] * 7


def test_a_loop_goes_on_without_a_gap_and_each_round_is_a_take(table):
    page = metronome_page(table, looping=True)
    table.play_in_time()
    first_zero_s = page.take.zero_s
    table.wait(1.5)
    assert page.take.zero_s == pytest.approx(first_zero_s + page._row.loop_s)
    for note in page.take.expected:
        table.wait(page.take.zero_s + page.take._grid.onsets_s[note.n - 1] - table.clock.now_s())
        table.play(note.sounding)
    table.key(pygame.K_ESCAPE)
    table.context.session.log.flush()
    with table.context.session.log.reading() as connection:
        (takes,) = connection.execute("SELECT count(*) FROM judgement").fetchone()
    assert takes == 2


def test_at_ones_own_pace_the_pulse_is_inferred_and_the_take_ends_by_itself(table):
    free_page(table)
    for sounding, pause in zip(SOUNDINGS, (0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 1.0), strict=True):
        table.play(sounding)
        table.wait(pause - 0.1)
    table.wait(1.5)
    assert words(table) == ["clean"] * 7
    assert table.screen.finished.usual_bpm == pytest.approx(120, rel=0.05)
    assert any("120" in said or "pace" in said for said in table.screen._summary)


def test_the_counts_are_written_under_the_notes_on_request(table):
    page = free_page(table, Stage.RHYTHM)
    table.key(pygame.K_SPACE, " ")
    assert [mark.mark for mark in page.view.marks][:4] == [NameMark(text=str(n)) for n in (1, 2, 3, 4)]
    table.key(pygame.K_SPACE, " ")
    assert page.view.marks == []


def test_the_page_can_stand_still_with_a_slip_over_the_bar_being_played(table):
    page = metronome_page(table)
    table.key(pygame.K_o, "o")
    assert isinstance(page.view.music, StillMusic)
    table.key(pygame.K_i, "i")
    assert page.view.music.slip
    table.play_in_time()
    table.wait(2.0)
    assert words(table) == ["clean"] * 7


@pytest.mark.parametrize("tempo", [50, 100, 200, 300])
@pytest.mark.parametrize("size", [(960, 600), (1920, 1080)])
def test_at_least_a_bar_and_1_3_seconds_of_music_lie_ahead_at_any_tempo(tmp_path, tempo, size):
    """Furneaux & Land 1999: the eyes are about a second before the hands."""
    table = Table(tmp_path, size=size)
    page = metronome_page(table, tempo=tempo)
    music = page.view.music
    ahead_px = music._area.width - music._reading_x
    quarters = max(1.3 / page.take.quarter_s, 4.0)
    length = 8.0
    for start in (0.0, 1.0, 2.0, max(0.0, length - quarters)):
        assert music._staff.x_at(start + quarters) - music._staff.x_at(start) <= ahead_px + 1


@pytest.mark.parametrize("frame_s", [1 / 240, 1 / 60, 1 / 30, 1 / 10])
def test_the_frame_rate_changes_no_verdict_and_no_offset(tmp_path, frame_s):
    table = Table(tmp_path)
    page = metronome_page(table)
    page.begin()
    for note in page.take.expected:
        due_s = page.take.zero_s + page.take._grid.onsets_s[note.n - 1] + 0.021 * (note.n % 3)
        table.wait(max(0.0, due_s - table.clock.now_s()) + 0.004, frame_s)
        from game.instrument.decoding.played import NoteStarted, PlayedNote

        sounding = note.sounding
        place = table.context.settings.neck_map().home_of(sounding).place
        table.app.note_started(NoteStarted(note=PlayedNote(started_s=due_s, sounding=sounding, place=place), channel=1))
    table.wait(2.0, frame_s)
    found = [(v.verdict, round(v.offset_ms, 3)) for v in table.screen.finished.judgement.verdicts]
    assert found == [(Verdict.CLEAN, 21.0 * (n % 3)) for n in range(1, 8)]


def test_the_coach_leads_from_places_through_rhythm_to_a_tempo_that_climbs(table):
    """A flawless player: each decision is taken by Enter."""
    table.settle(target_bpm=70)
    request = table.open(*ROWS, key=-1)
    table.go(ToPage(request))
    seen = []
    for _ in range(14):
        page = table.screen
        seen.append((page.request.stage, page.request.tempo_bpm))
        if page.request.tempo_bpm is not None:
            table.play_in_time()
            table.wait(2.5)
        elif page.request.stage is Stage.PLACES:
            for note in page.take.expected:
                table.play(note.sounding)
                table.wait(0.3)
            table.wait(1.0)
        else:
            for note in page.take.expected:
                table.play(note.sounding)
                table.wait(0.7 * float(note.note.length) - 0.1)
            table.wait(2.0)
        assert table.screen_name == "ResultScreen"
        assert table.screen.decision.reason
        if table.screen.decision.offer.value != "again":
            table.day += 1
            table.go(ToPage(request))
        else:
            table.key(pygame.K_RETURN)
    stages = [stage for stage, _ in seen]
    assert stages[0] is Stage.PLACES
    assert stages.index(Stage.RHYTHM) < stages.index(Stage.TIME)
    tempos = [tempo for stage, tempo in seen if stage is Stage.TIME and tempo]
    assert tempos
    assert max(tempos) > tempos[0] or tempos[0] >= 70


def test_what_the_coach_knows_comes_back_from_the_log_at_the_next_start(table):
    request = table.open(*ROWS, key=-1)
    table.go(ToPage(request))
    for sounding in SOUNDINGS:
        table.play(sounding)
    table.wait(1.0)
    known = table.context.session.coach.state
    table.context.session.log.close()
    assert table.context.session.coach.state.records == known.records


def test_the_player_overrules_the_coach_with_one_key(table):
    free_page(table)
    table.key(pygame.K_k, "k")
    first = table.screen.request.tempo_bpm
    assert first is not None
    table.key(pygame.K_MINUS, "-")
    assert table.screen.request.tempo_bpm <= first
    table.key(pygame.K_k, "k")
    assert table.screen.request.tempo_bpm is None


def test_the_bars_can_be_fewer_or_more(table):
    page = metronome_page(table)
    table.key(pygame.K_LEFTBRACKET, "[")
    assert len(table.screen.request.passage.bars) == len(page.request.passage.bars) - 1
    table.key(pygame.K_RIGHTBRACKET, "]")
    assert len(table.screen.request.passage.bars) == len(page.request.passage.bars)


def test_a_tempo_nobody_can_count_is_refused_in_a_sentence_and_the_page_stays(table):
    request = replace(table.open(*ROWS), stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=900)
    table.go(ToPage(request, chosen=True))
    assert "tempo 900 is out of range" in table.context.window.message.lower()
    assert table.screen_name == "PlacesPage"


def test_a_device_that_vanishes_in_a_timed_take_pauses_it(table):
    page = metronome_page(table)
    table.play_in_time(until=3)
    page.device_lost("blue pickup", was_playing=True)
    assert not page.running
    assert "blue pickup is gone" in table.context.window.message


def test_sound_that_is_lost_in_a_take_is_told_and_the_take_goes_on(table):
    page = metronome_page(table)
    table.play_in_time(until=3)
    page.sound.device_lost()
    table.wait(0.2)
    assert page.running
    assert page.view.beat


def test_the_bridge_gives_each_written_note_a_click_and_leads_back(table):
    table.open(*ROWS, key=-1)
    table.key(pygame.K_j, "j")
    assert table.screen.request.one_a_click
    assert table.screen.request.tempo_bpm == 50
    table.key(pygame.K_j, "j")
    assert table.screen_name == "PlacesPage"


def test_the_take_just_made_is_played_back_alone_or_beside_the_written_line(table):
    table.context.devices.sound = silence()
    metronome_page(table)
    table.play_in_time(offset_s=0.02, wrong={3})
    table.wait(2.0)
    finished = table.screen.finished
    (alone,) = playback_lines(finished, written=False)
    assert [note.sounding for note in alone.notes] == [53, 55, 59, 58, 60, 58, 57]
    played, written = playback_lines(finished, written=True)
    assert [note.sounding for note in written.notes] == list(SOUNDINGS)
    assert [note.onset_s for note in written.notes][:3] == pytest.approx([0, 0.6, 1.2])
    assert played.pan < 0 < written.pan
    table.key(pygame.K_p, "p")
    table.key(pygame.K_w, "w")
    table.wait(0.2)
    assert table.screen_name == "ResultScreen"


def test_bars_that_were_played_to_the_player_prove_less_from_then_on(table):
    table.context.devices.sound = silence()
    metronome_page(table)
    table.play_in_time()
    table.wait(2.0)
    table.key(pygame.K_w, "w")
    page = metronome_page(table)
    assert page._recorder.begun.sighting.heard
