"""What is said of a piece on paper."""

import pygame

from game.music.meter import Meter
from game.practice.paper_practice import MOST_BARS, OwnWord, PaperPiece, PaperTake
from game.screens.writing.head_rows import LONGEST_TITLE, METERS
from game.screens.writing.paper_rows import PIECE_ROWS, edited

TITLE, BARS, METER, TEMPO = PIECE_ROWS
PIECE = PaperPiece(meter=Meter())


def after(row, *keys, piece=PIECE, before=()):
    for key in keys:
        name, text = (key, "") if isinstance(key, int) else (ord(key), key)
        event = pygame.event.Event(pygame.KEYDOWN, key=name, unicode=text)
        piece = edited(piece, row, event, before)
    return piece


def test_a_title_is_typed():
    assert after(TITLE, *"Ab", pygame.K_BACKSPACE, "c").title == "Ac"
    assert len(after(TITLE, *"x" * 200).title) == LONGEST_TITLE


def test_bars_are_typed_as_digits_or_stepped():
    assert after(BARS, pygame.K_BACKSPACE, pygame.K_BACKSPACE, "3", "2").bars == 32
    assert after(BARS, "x").bars == 16
    assert after(BARS, pygame.K_RIGHT, pygame.K_RIGHT, pygame.K_LEFT).bars == 17
    assert after(BARS, *[pygame.K_LEFT] * 40).bars == 1
    assert after(BARS, "9", "9", "9").bars <= MOST_BARS
    assert BARS.words(after(BARS, *[pygame.K_BACKSPACE] * 9)) == ""


def test_metre_and_tempo_are_stepped():
    assert after(METER, pygame.K_RIGHT).meter == METERS[1]
    assert after(TEMPO, pygame.K_RIGHT).tempo_bpm == 74
    assert after(TEMPO, *[pygame.K_LEFT] * 99).tempo_bpm == 20
    assert after(METER, "x") == PIECE
    assert TEMPO.words(PIECE) == "♩ = 72"


def test_the_arrows_of_the_title_go_through_the_pieces_of_before():
    takes = [
        PaperTake(piece=PaperPiece(title=title, meter=Meter(3, 4)), bars_played=1, seconds=1.0, word=OwnWord.WELL)
        for title in ("A", "B")
    ]
    first = after(TITLE, pygame.K_RIGHT, before=takes)
    assert (first.title, first.meter) == ("A", Meter(3, 4))
    assert after(TITLE, pygame.K_RIGHT, piece=first, before=takes).title == "B"
    assert after(TITLE, pygame.K_LEFT, piece=first, before=takes).title == "B"
    assert after(TITLE, pygame.K_RIGHT) == PIECE
