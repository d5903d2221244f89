"""After a take that nothing listened to, the player marks the notes that were wrong."""

from dataclasses import replace

import msgspec
import pygame
import pytest

from game.coach.stages import Pulse, Stage
from game.judging.verdicts import Verdict
from game.neck.tuning import Place
from game.player.settings import InstrumentKind, Settings
from game.screens.routes import ToMarking, ToPage
from game.text.catalogue import tell
from tests.screens.table import Table

ROW = ("F4 q, G4 q, Bb4 h",)


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path, msgspec.structs.replace(Settings(), instrument=InstrumentKind.NO_PICKUP))


def test_with_the_click_the_wrong_notes_are_marked_on_the_page_afterwards(table):
    request = replace(table.open(*ROW, key=-1), stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=100)
    table.go(ToPage(request, chosen=True))
    table.key(pygame.K_SPACE, " ")
    table.wait(6.5)
    assert table.screen_name == "MarkingScreen"
    table.key(pygame.K_SPACE)
    table.key(pygame.K_BACKSPACE)
    table.click(table.screen._music.note_box(table.screen._notes[2].heads[0]).head.center)
    table.key(pygame.K_SPACE)
    table.key(pygame.K_w, "w")
    table.key(pygame.K_RETURN)
    assert table.verdicts == ["clean", "wrong pitch", "clean"]
    assert table.screen.finished.tempo_bpm == 100
    assert table.logged("SELECT self_marked, tempo_bpm FROM take") == [(1, 100.0)]


def test_at_ones_own_pace_the_player_says_when_it_is_over_and_marks_it(table):
    request = table.open(*ROW, key=-1).in_stage(Stage.RHYTHM)
    table.go(ToPage(request, chosen=True))
    table.wait(3.0)
    table.key(pygame.K_RETURN)
    table.key(pygame.K_RETURN)
    assert table.verdicts == ["clean"] * 3
    assert table.screen.decision.reason


def test_a_note_that_is_heard_after_all_is_judged_as_always(table):
    request = replace(table.open(*ROW, key=-1), stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=100)
    table.go(ToPage(request, chosen=True))
    table.play_in_time()
    table.wait(3.0)
    assert table.screen_name == "ResultScreen"
    assert {v.verdict for v in table.screen.finished.judgement.verdicts} == {Verdict.CLEAN}
    assert table.screen.finished.judgement.verdicts[0].first.place == Place(5, 8)


def test_all_that_comes_of_the_players_own_word_stays_in_pencil(table):
    """No time is claimed, nothing turns to ink, and no run is underlined: nobody heard it."""
    request = replace(table.open(*ROW, key=-1), stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=100)
    table.go(ToMarking(request))
    table.key(pygame.K_RETURN)
    result = table.screen
    assert [(count.figure, tell(count.of)) for count in result._words.counts] == [(3, "of 3, by your own word")]
    assert result._words.why == "All three right, by your own word."
    assert result._clean_heads == frozenset()
    assert result.page._run is None


def test_the_last_note_of_a_long_tune_is_one_key_away(table):
    rows = ["F4 q, G4 q, A4 q, G4 q"] * 40
    table.go(ToMarking(table.open(*rows).whole_or_passages().in_stage(Stage.RHYTHM)))
    table.key(pygame.K_END)
    table.key(pygame.K_BACKSPACE)
    screen = table.screen
    assert screen._music.note_box(screen._notes[-1].heads[0]) is not None
    assert [n for n, right in screen._right.items() if not right] == [160]


def test_too_few_right_by_ones_own_word_say_how_many_are_asked(table):
    rows = ["F4 q, G4 q, A4 q, G4 q"] * 4
    request = replace(table.open(*rows), stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=100)
    table.go(ToMarking(request))
    for _ in range(6):
        table.key(pygame.K_BACKSPACE)
    table.key(pygame.K_RETURN)
    assert table.screen._words.why.startswith("The F in bar 1 was not right.")
    assert "15" in table.screen._words.why


def test_one_wrong_by_ones_own_word_is_counted_where_only_the_rhythm_was_asked(table):
    """No cause is told there, and enough were right to go on: all the same they were not all right."""
    request = table.open(*["F4 q, G4 q, A4 q, G4 q"] * 4).in_stage(Stage.RHYTHM)
    table.go(ToMarking(replace(request, pulse=Pulse.METRONOME, tempo_bpm=60)))
    table.key(pygame.K_BACKSPACE)
    table.key(pygame.K_RETURN)
    assert table.screen._words.why == "One was wrong, by your own word."


def test_a_note_crossed_out_by_mistake_is_right_again_by_the_key_that_says_so(table):
    table.go(ToMarking(table.open(*ROW, key=-1).in_stage(Stage.RHYTHM)))
    table.key(pygame.K_BACKSPACE)
    table.key(pygame.K_BACKSPACE)
    table.key(pygame.K_LEFT)
    table.key(pygame.K_LEFT)
    table.key(pygame.K_SPACE)
    assert list(table.screen._right.values()) == [True, False, True]


def test_a_take_may_be_played_again_instead_of_being_marked(table):
    table.go(ToMarking(table.open(*ROW, key=-1).in_stage(Stage.RHYTHM)))
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "FreePage"
    assert table.screen.request.stage is Stage.RHYTHM
