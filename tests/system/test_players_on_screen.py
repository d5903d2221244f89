"""Several players at the real game: one is chosen on screen, and still plays after the next start."""

import os
from pathlib import Path

import pytest

from game.text.catalogue import say
from tests.commands.running import answer
from tests.sampling import only_where_all_is_run
from tests.system.game_on_screen import game_on
from tests.system.waiting import wait_until
from tests.system.words_on_screen import DIALOG_TITLE

pytestmark = pytest.mark.system


@only_where_all_is_run("the game is started twice")
def test_a_player_chosen_on_screen_plays_at_the_next_start_too(screen, own_home):
    _, grace = answer("players", "--add", "Grace")["players"]
    logs = [Path(folder) / "practice.sqlite" for folder in (own_home / "data" / "homefret", grace["folder"])]
    with game_on(screen, own_home, dict(os.environ)) as game:
        assert [log.exists() for log in logs] == [True, False]
        # Who plays is the last but one of the settings of practice, the last group: up from the first row.
        game.keys("s", "Tab", "Tab", "Up", "Up", "Return")
        game.wait_for_words(DIALOG_TITLE, say("players.title"))
        game.keys("Down", "Return")
        wait_until(logs[1].exists, "the log of who was chosen")
    # What was begun beside the game, as a back-up is, may outlast it for a moment, and would make a new log.
    wait_until(lambda: not is_read_by_any(logs), "the end of what reads the logs")
    for log in logs:
        log.unlink()
    with game_on(screen, own_home, dict(os.environ)):
        assert [log.exists() for log in logs] == [False, True]


def is_read_by_any(logs: list[Path]) -> bool:
    """Whether a program that was started with one of these files still runs."""
    for process in Path("/proc").glob("[0-9]*/cmdline"):
        try:
            command = process.read_bytes()
        except OSError:
            continue
        if any(os.fsencode(log) in command for log in logs):
            return True
    return False
