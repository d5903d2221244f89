"""A damaged log is put right while the picture goes on."""

from pathlib import Path

from game.clock import HandClock
from game.errors import LogError
from game.player.log_recovery import LogRecovery
from game.player.profiles import LOG_FILE, Profile
from game.player.seat import sit_down_again
from game.player.session import Session, open_session
from game.player.settings import Settings
from game.practice_log.back_ups.backup import checked_take_count
from game.practice_log.rows.entry_rows import About
from tests.practice_log.transfer.damaged_files import cut_off, first_page_of, flip
from tests.practice_log.transfer.hostile_files import log_of
from tests.refusing import refusal


def seated(folder: Path) -> Session:
    profile = Profile(name="", folder=folder, settings_path=folder / "settings.json")
    return open_session(profile, HandClock(0.0), settings=Settings(target_bpm=77))


def test_the_player_sits_down_again_at_the_log_that_was_put_right(tmp_path: Path):
    log = log_of(tmp_path / LOG_FILE, 4)
    before = seated(flip(log, first_page_of(log, "take_by_day")).parent)
    assert before.log.damage is not None
    recovery = LogRecovery(before, back_up=None, with_readable=True)
    assert recovery.result().takes == 4
    assert recovery.over
    after = sit_down_again(before)
    assert (after.log.damage, after.settings.target_bpm) == (None, 77)
    assert after.close() is None
    assert checked_take_count(log) == 4


def test_where_it_cannot_be_put_right_the_log_is_as_it_was(tmp_path: Path):
    before = seated(cut_off(log_of(tmp_path / LOG_FILE, 4), 2000).parent)
    recovery = LogRecovery(before, back_up=None, with_readable=True)
    with refusal(LogError, "nothing of"):
        recovery.result()
    after = sit_down_again(before)
    assert after.log.damage is not None
    after.close()
    assert (tmp_path / LOG_FILE).stat().st_size == 2000


def test_what_was_done_without_the_log_is_in_the_one_that_was_put_right(tmp_path: Path):
    log = log_of(tmp_path / LOG_FILE, 4)
    before = seated(flip(log, first_page_of(log, "take_by_day")).parent)
    before.log.record_fact(About.OPENED_TUNE, {"tune": "ode"})
    LogRecovery(before, back_up=None, with_readable=True).result()
    after = sit_down_again(before)
    assert after.log.flush()
    with after.log.reading() as connection:
        assert connection.execute("SELECT content FROM fact WHERE about = 'opened'").fetchall() == [('{"tune":"ode"}',)]
    after.close()
    assert not list(tmp_path.glob("*rescue*"))
