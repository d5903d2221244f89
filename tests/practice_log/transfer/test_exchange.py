"""Two computers of one player, brought together through a folder."""

import shutil
from datetime import timedelta

import pytest

from game.errors import LogError
from game.practice_log.database.own_device import new_device, own_device
from game.practice_log.database.own_player import own_player, player_of_log
from game.practice_log.database.store import open_store
from game.practice_log.transfer.erased import mark_erased
from game.practice_log.transfer.exchange import exchange
from game.practice_log.transfer.gather import gather
from game.practice_log.transfer.log_fingerprint import fingerprint
from game.practice_log.transfer.shared_folder import players_there, remember_shared, shared_files
from game.practice_log.writing.practice_log import PracticeLog
from tests.practice_log.logged_takes import MORNING, begun, ended, judged, notes_of
from tests.refusing import refusal

DAY = timedelta(days=1)


class Computer:
    """A computer with a log that is shared through a folder."""

    def __init__(self, home, cloud):
        home.mkdir()
        self.log = home / "practice.sqlite"
        self.share(cloud)

    def share(self, cloud):
        remember_shared(self.log.parent, cloud)

    def play(self, day):
        """One take, of six notes."""
        player, device = own_player(self.log), own_device(self.log.parent)
        with PracticeLog(self.log, device=device, now=lambda: MORNING + day * DAY) as log:
            take = begun(minutes=round(day * 24 * 60), player=player)
            handle = log.begin_take(take, zero_s=0.0)
            for note in notes_of(take):
                handle.played(note)
            handle.end(ended(judged(take, notes_of(take)), minutes=round(day * 24 * 60) + 1))

    def exchange(self, day=30, **how):
        return exchange(self.log, now=MORNING + day * DAY, **how)

    @property
    def fingerprint(self):
        return self.ask(fingerprint)

    @property
    def takes(self):
        return self.ask(lambda log: log.execute("SELECT count(*) FROM take").fetchone()[0])

    def ask(self, question):
        log = open_store(self.log, now_utc=MORNING)
        try:
            return question(log)
        finally:
            log.close()


@pytest.fixture
def cloud(tmp_path):
    (tmp_path / "cloud").mkdir()
    return tmp_path / "cloud"


@pytest.fixture
def laptop(tmp_path, cloud):
    return Computer(tmp_path / "laptop", cloud)


@pytest.fixture
def desk(tmp_path, cloud):
    return Computer(tmp_path / "desk", cloud)


def test_a_log_that_is_not_shared_is_left_alone(laptop, cloud):
    laptop.share(None)
    laptop.play(0)
    assert laptop.exchange() is None
    assert list(cloud.iterdir()) == []


def test_a_new_computer_becomes_that_of_the_player_who_shares_through_the_folder(laptop, desk):
    laptop.play(0)
    laptop.exchange()
    exchanged = desk.exchange()
    assert exchanged.gathered.came.new["take"] == 1
    assert player_of_log(desk.log).uuid == own_player(desk.log).uuid == own_player(laptop.log).uuid
    assert desk.fingerprint == laptop.fingerprint


def test_played_in_turn_both_hold_all_of_it(laptop, desk):
    for day in range(4):
        one = (laptop, desk)[day % 2]
        one.exchange(day)
        one.play(day)
        one.exchange(day)
    laptop.exchange(4)
    assert (laptop.takes, desk.takes) == (4, 4)
    assert laptop.fingerprint == desk.fingerprint


def test_played_at_the_same_time_both_hold_all_of_it_after_two_exchanges(laptop, desk):
    laptop.play(0)
    laptop.exchange()
    desk.exchange()
    laptop.play(1)
    desk.play(1.1)
    for one in (laptop, desk, laptop):
        one.exchange()
    assert (laptop.takes, desk.takes) == (3, 3)
    assert laptop.fingerprint == desk.fingerprint


def test_where_nothing_is_new_nothing_is_read_or_written(laptop, desk, cloud):
    laptop.play(0)
    for one in (laptop, desk, laptop, desk):
        one.exchange()
    before = {path: path.stat().st_mtime_ns for path in cloud.rglob("*")}
    exchanged = laptop.exchange()
    assert (exchanged.written, exchanged.gathered.came.changed) == (0, False)
    assert {path: path.stat().st_mtime_ns for path in cloud.rglob("*")} == before


def test_a_computer_that_is_gone_lives_on_through_whoever_restored_its_log(tmp_path, laptop, desk):
    """The laptop never shared; its log was copied to the desk before it broke."""
    laptop.share(None)
    laptop.play(0)
    shutil.copy(laptop.log, desk.log)
    new_device(desk.log.parent)
    desk.play(1)
    desk.exchange()
    third = Computer(tmp_path / "third", tmp_path / "cloud")
    third.exchange()
    assert (third.takes, third.fingerprint) == (2, desk.fingerprint)


def test_what_goes_along_of_a_computer_that_is_gone_lies_there_once(tmp_path, laptop, desk, cloud):
    laptop.share(None)
    laptop.play(0)
    shutil.copy(laptop.log, desk.log)
    new_device(desk.log.parent)
    third = Computer(tmp_path / "third", cloud)
    for one in (desk, third, desk, third):
        one.exchange()
    assert [path.name[:3] for path in shared_files(cloud, players_there(cloud))] == ["of-"]


def test_two_people_may_share_one_folder_and_nothing_is_mixed(tmp_path, laptop, cloud):
    laptop.play(0)
    laptop.exchange()
    friend = Computer(tmp_path / "friend", cloud)
    friend.play(0)
    friend.exchange()
    laptop.exchange()
    assert len(players_there(cloud)) == 2
    assert (laptop.takes, friend.takes) == (1, 1)
    newcomer = Computer(tmp_path / "newcomer", cloud)
    with refusal(LogError, "2 players share through"):
        newcomer.exchange()
    assert not newcomer.log.exists() or newcomer.takes == 0


def test_who_was_another_on_a_second_computer_says_so_once(laptop, desk):
    """Both were played on before anything was shared."""
    laptop.play(0)
    desk.play(1)
    for one in (laptop, desk):
        one.exchange()
    assert (laptop.takes, desk.takes) == (1, 1)
    desk.exchange(as_one=True)
    for one in (laptop, desk, laptop):
        one.exchange()
    assert (desk.takes, laptop.takes) == (2, 2)
    assert desk.fingerprint == laptop.fingerprint


def test_what_a_sync_has_not_brought_whole_comes_next_time(laptop, desk, cloud):
    laptop.play(0)
    laptop.play(10)
    laptop.exchange()
    november = min(shared_files(cloud, players_there(cloud)))
    whole = november.read_bytes()
    november.write_bytes(whole[: len(whole) // 2])
    exchanged = desk.exchange()
    assert len(exchanged.gathered.faults) == 1
    assert desk.takes == 1
    november.write_bytes(whole)
    desk.exchange()
    assert (desk.takes, desk.fingerprint) == (2, laptop.fingerprint)


def test_a_folder_that_is_away_is_told_and_nothing_is_lost(laptop, cloud):
    laptop.play(0)
    cloud.rmdir()
    with refusal(LogError, "no folder that can be reached"):
        laptop.exchange()
    cloud.mkdir()
    assert laptop.exchange().written == 2


def test_nothing_of_a_player_who_was_erased_comes_back(laptop, desk):
    laptop.play(0)
    laptop.exchange()
    mark_erased(desk.log.parent, [own_player(laptop.log).uuid], MORNING.date())
    exchanged = desk.exchange()
    assert len(exchanged.gathered.faults) == 1
    assert not desk.log.exists() or desk.takes == 0


def test_what_a_computer_recorded_last_comes_along_though_it_was_given_another_id_since(laptop, desk):
    """Its disk was put into another computer, say, before it had written that into the folder."""
    laptop.play(0)
    laptop.exchange()
    desk.exchange()
    laptop.play(1)
    new_device(laptop.log.parent)
    laptop.play(2)
    laptop.exchange()
    desk.exchange()
    assert desk.takes == 3
    assert desk.fingerprint == laptop.fingerprint


def test_what_a_computer_that_shares_writes_itself_nobody_else_writes(laptop, desk, cloud):
    laptop.play(0)
    laptop.exchange()
    desk.exchange()
    desk.play(0.5)
    for computer in (desk, laptop, desk):
        computer.exchange()
    assert not list(cloud.rglob("of-*"))
    laptop.play(1)
    shutil.copy(laptop.log, desk.log.parent / "stick.sqlite")
    assert gather(desk.log, [desk.log.parent / "stick.sqlite"], now=MORNING + 30 * DAY).faults == []
    assert desk.takes == 3
    desk.exchange()
    assert len(list(cloud.rglob("of-*"))) == 1
    for computer in (laptop, desk):
        computer.exchange()
    assert not list(cloud.rglob("of-*"))
    assert desk.fingerprint == laptop.fingerprint
