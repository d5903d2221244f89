"""What a player settles on one computer holds on the others, and what they wrote into a file by hand is not undone."""

import json
import os
from datetime import UTC, datetime, timedelta
from random import Random
from uuid import UUID

import msgspec
import pytest

from game.clock import HandClock
from game.player.profiles import LOG_FILE, Profile
from game.player.session import open_session
from game.player.setting_rules import within_rules
from game.player.settings import Look, Settings
from game.player.settings_file import load, save
from game.practice_log.database.identity import Identity, write_identity
from game.practice_log.database.opening import opened_log
from game.practice_log.queries.facts import facts_about
from game.practice_log.rows.entry_rows import About, Recorded, put_fact, time_of
from game.practice_log.rows.shared_rows import put_device, put_player
from game.text.catalogue import tell
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import lines_of, take_in
from tests.sampling import how_many

NOON = datetime(2026, 11, 29, 12, tzinfo=UTC)
HOUR = timedelta(hours=1)
ELSEWHERE = Identity(uuid=UUID(int=7), name="the other computer")
CACHE = "settings-agreed.cache"


@pytest.fixture
def path(tmp_path):
    return tmp_path / "config" / "settings.json"


@pytest.fixture
def start(tmp_path, path):
    """Start the game at an hour after noon and leave it again: the settings that held, and what of them was new."""

    def started(hour=0, change=None):
        session = open_session(
            Profile(name="", folder=tmp_path, settings_path=path), HandClock(), now=lambda: NOON + hour * HOUR
        )
        new = [tell(name) for name in session.begin_practice()]
        if change:
            session.change_settings(msgspec.structs.replace(session.settings, **change))
            os.utime(path, ((NOON + hour * HOUR).timestamp(),) * 2)
        assert session.close() is None
        return session.settings, new

    return started


@pytest.fixture
def elsewhere(tmp_path):
    """Something is said on another computer of the player's, and was gathered here."""

    def said(name, value, hour):
        with opened_log(tmp_path / LOG_FILE) as log:
            (player,) = log.execute("SELECT uuid, name FROM player").fetchall() or [(str(UUID(int=1)), "")]
            number = put_player(log, Identity(uuid=UUID(player[0]), name=player[1]))
            at = Recorded(put_device(log, ELSEWHERE), number, NOON + hour * HOUR)
            put_fact(log, at, About.SETTING, {"name": name, "value": value})

    return said


def write(path, settings, hour):
    """The file is written by hand, or by a program of before."""
    save(settings, path)
    os.utime(path, ((NOON + hour * HOUR).timestamp(),) * 2)


def words(tmp_path):
    """What this computer said, each with the hour after noon."""
    with opened_log(tmp_path / LOG_FILE) as log:
        (player,) = log.execute("SELECT uuid FROM player").fetchone()
        facts = facts_about(log, UUID(player), About.SETTING)
        own = [fact for fact in facts if fact.device != str(ELSEWHERE.uuid)]
    return [
        (fact.content["name"], fact.content.get("value"), round((time_of(fact.moment_us) - NOON) / HOUR, 3))
        for fact in own
    ]


def test_what_is_changed_is_said_once_and_holds_at_the_next_start(start, tmp_path, path):
    start(1, {"look": Look.NIGHT, "volume": 0.1})
    assert start(2) == (Settings(look=Look.NIGHT, volume=0.1), [])
    assert words(tmp_path) == [("look", "night", 1)]
    assert load(path).settings.look is Look.NIGHT


def test_without_a_change_nothing_is_said_and_no_settings_file_is_made(start, tmp_path, path):
    assert start() == (Settings(), [])
    assert not path.exists()
    with opened_log(tmp_path / LOG_FILE) as log:
        assert log.execute("SELECT count(*) FROM fact").fetchone() == (0,)


def test_the_first_time_what_is_not_as_at_first_is_said_at_the_time_of_the_file(start, tmp_path, path):
    """Once: not at the start after that."""
    write(path, Settings(target_bpm=80, volume=0.1), -500)
    start(1)
    start(2)
    assert words(tmp_path) == [("target_bpm", 80, -500)]


def test_a_newer_choice_of_another_computer_holds_here_and_is_kept_in_the_file(start, elsewhere, tmp_path, path):
    start(1, {"target_bpm": 80, "volume": 0.1})
    elsewhere("target_bpm", 90, 2)
    assert start(3) == (Settings(target_bpm=90, volume=0.1), ["signed off at"])
    assert load(path).settings == Settings(target_bpm=90, volume=0.1)
    assert start(4) == (Settings(target_bpm=90, volume=0.1), [])
    assert words(tmp_path) == [("target_bpm", 80, 1)]


def test_an_older_choice_of_another_computer_does_not(start, elsewhere):
    start(2, {"target_bpm": 80})
    elsewhere("target_bpm", 90, 1)
    assert start(3) == (Settings(target_bpm=80), [])


def test_an_old_choice_here_does_not_beat_a_newer_one_elsewhere(start, elsewhere, tmp_path, path):
    """The file was written before the log knew of settings, and nothing was recorded here yet."""
    start(-200)
    (tmp_path / CACHE).unlink()
    write(path, Settings(target_bpm=80, look=Look.NIGHT), -100)
    elsewhere("target_bpm", 90, -50)
    assert start(1)[0] == Settings(target_bpm=90, look=Look.NIGHT)


def test_what_was_taken_over_is_not_said_again_so_that_a_newer_word_still_beats_it(start, elsewhere, tmp_path):
    """It was said elsewhere at one, taken over here at three, and changed elsewhere at two, which came later."""
    start(0, {"look": Look.NIGHT})
    elsewhere("target_bpm", 90, 1)
    assert start(3)[0].target_bpm == 90
    elsewhere("target_bpm", 70, 2)
    assert start(4)[0].target_bpm == 70
    assert words(tmp_path) == [("look", "night", 0)]


def test_a_change_by_hand_in_the_file_is_a_new_word_at_the_time_of_the_file(start, elsewhere, tmp_path, path):
    start(1, {"target_bpm": 80})
    elsewhere("target_bpm", 90, 2)
    write(path, Settings(target_bpm=60), 3)
    assert start(4)[0].target_bpm == 60
    assert words(tmp_path) == [("target_bpm", 80, 1), ("target_bpm", 60, 3)]
    elsewhere("target_bpm", 75, 5)
    assert start(6)[0].target_bpm == 75


def test_a_change_by_hand_back_to_what_was_said_before_or_is_usual_counts_too(start, path):
    start(1, {"target_bpm": 80})
    start(2, {"target_bpm": 70})
    write(path, Settings(target_bpm=80), 3)
    assert start(4)[0].target_bpm == 80
    write(path, Settings(), 5)
    assert start(6)[0] == Settings()


def test_an_older_file_put_in_its_place_counts_from_the_last_word_here(start, elsewhere, path):
    start(3, {"target_bpm": 80})
    write(path, Settings(target_bpm=60), 1)
    assert start(4)[0].target_bpm == 60
    elsewhere("target_bpm", 75, 3.5)
    assert start(5)[0].target_bpm == 75


def test_a_change_by_hand_says_nothing_of_the_clock(start, tmp_path, path):
    """Though a take may have been judged since the file was written."""
    start(5, {"look": Look.NIGHT})
    write(path, Settings(target_bpm=60), 2)
    start(6)
    with opened_log(tmp_path / LOG_FILE) as log:
        assert log.execute("SELECT count(*) FROM fact WHERE about = 'clock'").fetchone() == (0,)


def test_without_the_small_file_nothing_that_was_said_is_said_again(start, elsewhere, tmp_path):
    start(1, {"target_bpm": 80})
    elsewhere("look", "night", 2)
    start(3)
    (tmp_path / CACHE).unlink()
    assert start(4) == (Settings(target_bpm=80, look=Look.NIGHT), [])
    (tmp_path / CACHE).write_text('{"device": 7, "settings": [')
    assert start(5) == (Settings(target_bpm=80, look=Look.NIGHT), [])
    assert words(tmp_path) == [("target_bpm", 80, 1)]


def test_the_small_file_of_another_computer_means_nothing(start, tmp_path, path):
    """As it lies in a folder that was copied: the settings of this computer are not what was changed there by hand."""
    start(1, {"target_bpm": 80})
    kept = json.loads((tmp_path / CACHE).read_text())
    (tmp_path / CACHE).write_text(json.dumps(kept | {"device": str(UUID(int=1))}))
    write(path, Settings(), 2)
    assert start(3)[0].target_bpm == 80


def test_without_a_settings_file_what_was_said_before_makes_a_new_one(start, path):
    start(1, {"target_bpm": 80})
    path.unlink()
    assert start(2) == (Settings(target_bpm=80), ["signed off at"])
    assert load(path).settings.target_bpm == 80


def test_a_file_with_faults_is_neither_said_nor_written_over(start, tmp_path, path):
    start(1, {"target_bpm": 80})
    for text in ("{broken", '{"target_bpm": 900}'):
        path.write_text(text)
        before = words(tmp_path)
        start(2)
        assert (path.read_text(), words(tmp_path)) == (text, before)


def test_what_another_version_says_is_passed_over_and_stays_in_the_log(start, elsewhere, tmp_path):
    start(1, {"target_bpm": 80})
    elsewhere("target_bpm", "as fast as you can", 2)
    elsewhere("scent", "lavender", 3)
    assert start(4) == (Settings(target_bpm=80), [])
    with opened_log(tmp_path / LOG_FILE) as log:
        assert log.execute("SELECT count(*) FROM fact").fetchone() == (3,)


def test_homes_of_two_computers_hold_side_by_side(start, elsewhere, tmp_path):
    start(1, {"choices": {59: (4, 9)}})
    with opened_log(tmp_path / LOG_FILE) as log:
        who = Recorded(put_device(log, ELSEWHERE), 1, NOON + 2 * HOUR)
        put_fact(log, who, About.SETTING, {"name": "choices", "sounding": 60, "place": [4, 10]})
    assert start(3) == (Settings(choices={59: (4, 9), 60: (4, 10)}), ["homes chosen by hand"])
    elsewhere("tuning", "drop-d", 4)
    assert start(5)[0] == Settings(tuning="drop-d")


def test_a_file_that_cannot_be_written_lets_what_was_said_elsewhere_hold_for_this_time(start, elsewhere, monkeypatch):
    start(1, {"target_bpm": 80})
    elsewhere("target_bpm", 90, 2)
    monkeypatch.setattr("game.player.session.save", lambda *_: (_ for _ in ()).throw(OSError(28, "No space left")))
    assert start(3)[0].target_bpm == 90
    assert start(4)[0].target_bpm == 90
    monkeypatch.undo()
    assert start(5)[0].target_bpm == 90
    assert start(6) == (Settings(target_bpm=90), [])


class Home:
    """A computer of the player's, whose clock on the wall is that of all of them."""

    def __init__(self, folder, hours):
        self.folder, self.hours = folder, hours
        write_identity(folder / "player.json", PLAYER)

    def seated(self):
        session = open_session(
            Profile(name="", folder=self.folder, settings_path=self.folder / "settings.json"),
            HandClock(),
            now=lambda: NOON + self.hours[0] * HOUR,
        )
        session.begin_practice()
        return session

    def change(self, name, value):
        session = self.seated()
        changed = session.settings.changed(name, value)
        if name == "position":
            changed = msgspec.structs.replace(changed, choices={})
        session.change_settings(changed)
        assert session.close() is None

    def write_by_hand(self, name, value):
        path = self.folder / "settings.json"
        save(msgspec.structs.replace(load(path).settings, **{name: value}), path)
        os.utime(path, ((NOON + self.hours[0] * HOUR).timestamp(),) * 2)

    def gather(self, other):
        """Take in what the other computer has."""
        self.seated().close()
        with opened_log(other.folder / LOG_FILE) as log:
            lines = lines_of(log)
        with opened_log(self.folder / LOG_FILE) as log:
            take_in(log, lines)

    def settings(self):
        session = self.seated()
        session.close()
        return session.settings


HOMES = ({59: (4, 9)}, {60: (4, 10)}, {59: (3, 4), 64: (2, 5)}, {})
CHOICES = {
    "look": tuple(Look),
    "target_bpm": (60, 70, 80, 90),
    "tuning": ("standard", "drop-d"),
    "position": (2, 5, 7),
    "choices": HOMES,
    "left_handed": (False, True),
}


@pytest.mark.parametrize("seed", range(how_many(100, by_default=1)))
def test_whatever_is_changed_on_three_computers_all_agree_when_each_has_gathered(tmp_path, seed):
    """And where nothing hangs together, what was said last holds."""
    rng, hours, newest = Random(seed), [0], {}
    homes = []
    for number in range(3):
        (tmp_path / str(number)).mkdir()
        homes.append(Home(tmp_path / str(number), hours))
        homes[-1].seated().close()
    for _ in range(25):
        hours[0] += 1
        home, other = rng.sample(homes, 2)
        name = rng.choice(list(CHOICES))
        value = rng.choice(CHOICES[name])
        act = rng.choice((home.change, home.change, home.write_by_hand, lambda *_, to=home, of=other: to.gather(of)))
        before = home.settings()
        act(name, value)
        if home.settings() != before and getattr(home.settings(), name) == value and act.__name__ != "<lambda>":
            newest[name] = value
    hours[0] += 1
    for home in homes:
        home.settings()
    for home in homes:
        for other in homes:
            if other is not home:
                home.gather(other)
    all_settings = [home.settings() for home in homes]
    assert all_settings[1:] == all_settings[:-1]
    for name in ("look", "target_bpm", "left_handed"):
        assert getattr(all_settings[0], name) == newest.get(name, getattr(Settings(), name))
    within, faults = within_rules(all_settings[0])
    assert (within, faults) == (all_settings[0], [])
