"""The `letters` stage on screen."""

import msgspec
import pygame
import pytest

from game.coach.stages import Stage
from game.judging.verdicts import Verdict
from game.music.names import NoteNames
from game.neck.tuning import Place
from game.player.settings import InstrumentKind, Settings
from game.practice.pencilled import NameMark
from game.screens.routes import ToPage
from tests.screens.heard_guitar import HeardGuitar
from tests.screens.table import Table


def begin(table, *rows, key=-1):
    request = table.open(*rows or ("F4 q, Bb4 q, F#4 h",), key=key)
    table.go(ToPage(request.in_stage(Stage.LETTERS), chosen=True))
    return table.screen


def names(page):
    return [mark.mark for mark in page.view.marks]


def test_names_are_pencilled_under_the_heads_as_they_are_given(table):
    page = begin(table)
    table.letters("f")
    assert names(page) == [NameMark(text="F")]
    assert page.take.asked.n == 2


def test_a_flat_of_the_signature_must_be_named(table):
    page = begin(table)
    table.letters("fb")
    assert "key signature" in page.view.status
    assert names(page)[-1] == NameMark(text="B", struck=True, row=1)
    table.key(pygame.K_DOWN)
    table.letters("b")
    assert page.take.asked.n == 3


def test_the_sign_is_set_by_the_arrows_before_its_letter(table):
    begin(table)
    table.letters("f")
    table.key(pygame.K_DOWN)
    table.letters("b")
    table.key(pygame.K_UP)
    table.letters("f")
    assert table.screen_name == "ResultScreen"
    assert table.screen.finished.clean_count == 3


def test_a_sign_waits_in_pencil_for_its_letter(table):
    page = begin(table)
    table.key(pygame.K_UP)
    assert names(page) == [NameMark(text="♯ …")]


@pytest.mark.parametrize(
    ("language", "letters"),
    [
        (NoteNames.SOLFEGE, ["f", (pygame.K_DOWN, "i"), (pygame.K_UP, "f")]),
        (NoteNames.GERMAN, ["f", "b", (pygame.K_UP, "f")]),
    ],
)
def test_names_are_given_in_the_players_own_language(tmp_path, language, letters):
    table = Table(tmp_path, msgspec.structs.replace(Settings(), note_names=language))
    begin(table)
    for given in letters:
        if isinstance(given, tuple):
            table.key(given[0])
        table.letters(given[-1])
    assert table.screen.finished.clean_count == 3


def test_on_the_guitar_one_note_reveals_and_another_confirms(table):
    page = begin(table)
    table.play(60)
    assert page.take.revealed
    assert names(page) == [NameMark(text="F")]
    table.play(60)
    assert page.take.named[0].verdict is Verdict.CLEAN
    assert page.take.named[0].self_marked


def test_on_the_guitar_the_free_open_string_says_no(table):
    page = begin(table)
    table.play(60)
    table.play(40, Place(6, 0))
    assert page.take.named[0].verdict is Verdict.WRONG_PITCH


def test_f5_reveals_a_name_which_then_counts_as_helped(table):
    page = begin(table)
    table.key(pygame.K_F5)
    table.letters("f")
    assert page.take.named[0].verdict is Verdict.HINTED


def test_the_result_shows_every_name_and_crosses_out_the_wrong_ones(table):
    begin(table, "G4 h, A4 h", key=0)
    table.letters("ega")
    assert [mark.mark for mark in table.screen._marks] == [
        NameMark(text="G"), NameMark(text="E", struck=True, row=1), NameMark(text="A"),
    ]  # fmt: skip


def test_one_whom_nothing_listens_to_says_by_two_keys_what_others_say_by_notes(table):
    table.settle(instrument=InstrumentKind.NO_PICKUP)
    page = begin(table)
    assert "Space" in page.view.status
    table.key(pygame.K_BACKSPACE)
    assert page.take.named == ()
    for key in (pygame.K_SPACE, pygame.K_SPACE, pygame.K_SPACE, pygame.K_BACKSPACE, pygame.K_SPACE, pygame.K_SPACE):
        table.key(key, " " if key == pygame.K_SPACE else "")
    assert table.screen_name == "ResultScreen"
    assert [one.verdict for one in table.screen.finished.named] == [Verdict.CLEAN, Verdict.WRONG_PITCH, Verdict.CLEAN]


def test_what_rings_along_with_a_note_that_is_heard_says_nothing(table):
    heard = HeardGuitar(table)
    page = begin(table)
    heard.sound(53)
    heard.sound(45)
    assert page.take.revealed
    assert page.take.named == ()
    table.wait(0.6)
    heard.sound(57, sure=False)
    assert page.take.named == ()
    heard.sound(53)
    assert [one.verdict for one in page.take.named] == [Verdict.CLEAN]
