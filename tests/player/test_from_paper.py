"""Practice from paper in the log, and back out of it; what came from elsewhere may be anything."""

import json
from datetime import UTC, datetime

import pytest

from game.music.meter import Meter
from game.player.from_paper import paper_content, paper_take
from game.player.player_log import PlayerLog
from game.practice.paper_practice import OwnWord, PaperPiece, PaperTake


def take(title="Nocturne", word=OwnWord.SLIPS, bars_played=12) -> PaperTake:
    piece = PaperPiece(title=title, bars=16, meter=Meter(6, 8), tempo_bpm=63)
    return PaperTake(piece=piece, bars_played=bars_played, seconds=61.5, word=word)


@pytest.mark.parametrize("word", [*OwnWord, None])
def test_what_was_practised_comes_back_as_it_was(word):
    assert paper_take(json.loads(json.dumps(paper_content(take(word=word))))) == take(word=word)


@pytest.mark.parametrize(
    "change",
    [
        {"bars": 0},
        {"bars": "16"},
        {"bars": True},
        {"beats": 0},
        {"unit": 5},
        {"tempo_bpm": 100_000},
        {"bars_played": -1},
        {"seconds": -1},
        {"seconds": 1e300},
        {"seconds": "long"},
        {"title": 5},
        {"word": "splendid"},
    ],
)
def test_nonsense_is_no_practice(change):
    assert paper_take(paper_content(take()) | change) is None


def test_what_a_newer_program_says_besides_is_passed_over():
    assert paper_take(paper_content(take()) | {"mood": "good"}) == take()


def test_the_last_take_of_each_piece_is_known_at_the_next_start_the_newest_first(tmp_path):
    def now():
        return datetime(2026, 11, 29, 12, tzinfo=UTC)

    log = PlayerLog(tmp_path, now)
    for one in (take("A"), take("B"), take("A", OwnWord.WELL)):
        log.facts.practise_from_paper(one)
    assert log.facts.paper_takes == (take("A", OwnWord.WELL), take("B"))
    log.close()
    again = PlayerLog(tmp_path, now)
    assert again.facts.paper_takes == (take("A", OwnWord.WELL), take("B"))
    again.close()
