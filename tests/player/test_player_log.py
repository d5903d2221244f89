"""The practice log of a player, as the screens write and read it."""

import pygame

from game.audio.sound import silence
from game.player.player_log import PlayerLog
from game.player.profiles import LOG_FILE
from game.practice_log.database.soundness import DamageKind
from game.practice_log.queries.take_sightings import sightings_up_to_date
from game.practice_log.rows.entry_rows import About
from game.text.catalogue import tell
from tests.made import passage
from tests.practice_log.transfer.damaged_files import flip
from tests.practice_log.transfer.hostile_files import ENDLESS, log_of, planted
from tests.screens.timed_pages import metronome_page

ROWS = ("F4 h, G4 h", "A4 w", "Bb4 h, A4 h", "G4 w", "C5 h, A4 h", "F4 w", "D4 w", "G4 w")


def logged(table, column):
    assert table.context.session.log.flush()
    player = table.context.session.log.player.uuid
    with table.context.session.log.reading() as log, sightings_up_to_date(log, player):
        return [value for (value,) in log.execute(f"SELECT {column} FROM summaries.sighting ORDER BY position")]


def test_the_whole_tune_after_its_first_bars_is_no_first_sight(table):
    """Nor are its last bars after that, which until then were new."""
    table.open(*ROWS)
    table.play_through()
    table.open(*ROWS)
    table.key(pygame.K_F4)
    assert table.screen.request.passage.whole
    table.play_through()
    table.open(*ROWS)
    table.key(pygame.K_RIGHT)
    table.play_through()
    assert logged(table, "nth") == [1, 2, 2]


def test_who_heard_the_whole_tune_heard_its_passages(table):
    table.context.devices.sound = silence()
    table.open(*ROWS)
    table.key(pygame.K_F4)
    table.play_through()
    table.key(pygame.K_w, "w")
    table.open(*ROWS)
    table.key(pygame.K_RIGHT)
    table.play_through()
    assert logged(table, "heard") == [0, 1]


def test_bars_that_were_played_to_the_player_prove_less_from_then_on(table):
    table.context.devices.sound = silence()
    metronome_page(table)
    table.play_in_time()
    table.wait(2.0)
    table.key(pygame.K_w, "w")
    page = metronome_page(table)
    assert page._recorder.begun.sighting.heard


def test_a_damaged_log_is_left_as_it_is_and_what_is_played_is_kept_in_memory(tmp_path):
    path = flip(log_of(tmp_path / LOG_FILE, 3), 5)
    before = path.read_bytes()
    log = PlayerLog(tmp_path)
    assert log.damage is not None
    log.record_fact(About.OPENED_TUNE, {"tune": "ode"})
    assert not log.flush()
    assert tell(log.trouble) == "the practice log is damaged; until then practice is kept in memory only"
    assert log.sighting(passage("F4 q")).nth == 1
    log.close()
    assert path.read_bytes() == before


def test_whose_a_log_is_in_which_a_view_without_end_was_planted_is_not_asked_of_it(tmp_path):
    planted(log_of(tmp_path / LOG_FILE, 2), "DROP TABLE entry", f"CREATE VIEW entry AS {ENDLESS}")
    log = PlayerLog(tmp_path)
    assert log.damage.damage.kind is DamageKind.PLANTED
    log.close()
