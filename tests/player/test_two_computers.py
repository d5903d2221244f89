"""Two homes on one machine, played in turn for five days through a shared folder: one with its clock a day wrong for a
while, one restored from a back-up in between. Both come to the same, and so does a third that only gathered.
"""

import json
from datetime import date, timedelta

import msgspec
import pytest

from game.clock import HandClock
from game.player.profiles import Profile
from game.player.session import open_session
from game.player.settings_file import load
from game.practice_log.back_ups.backup import back_up
from game.practice_log.back_ups.restoring import restore
from game.practice_log.database.store import open_store
from game.practice_log.transfer.exchange import exchange
from game.practice_log.transfer.log_fingerprint import fingerprint
from game.practice_log.transfer.shared_folder import remember_shared
from game.report.report_files import write_own_report
from game.screens.progress.progress_figures import progress_of
from tests.made import passage
from tests.screens.table import Table

MONDAY = date(2026, 11, 23)
TUNES = RIVER, FORD, HILL = ("F4 h, G4 h", "A4 w"), ("C5 q, Bb4 q, A4 h", "G4 h, F4 h"), ("F4 q, A4 q, C5 h", "Bb4 w")


class Home:
    """A home with its own data, whose log is shared through a folder. Its clock is so many days ahead."""

    def __init__(self, folder, cloud):
        folder.mkdir()
        self.profile = Profile(name="", folder=folder, settings_path=folder / "settings.json")
        self.days_wrong, self._cloud = 0, cloud

    @property
    def log(self):
        return self.profile.log_path

    def sit_down(self, day):
        """A game with this home, on that day of the week by the clock on its wall."""
        kept = load(self.profile.settings_path).settings
        table = Table(profile=self.profile, settings=kept, day=MONDAY + timedelta(days=day + self.days_wrong))
        table.context.session.settings_of_file = True
        self.exchange(table.now())
        table.context.session.begin_practice()
        return table

    def exchange(self, now):
        """Bring the log and the folder together. While a game runs nothing else does so here."""
        remember_shared(self.profile.folder, self._cloud)
        exchange(self.log, now=now)
        remember_shared(self.profile.folder, None)

    def practise(self, day, *tunes, known=None, **settings):
        """A sitting: each tune once through; `known` is one that the player says they know by ear."""
        table = self.sit_down(day)
        for tune in tunes:
            table.open(*tune, key=-1)
            table.play_through()
        if known:
            table.context.session.log.facts.set_known_by_ear(passage(*known, key=-1), known=True)
        if settings:
            session = table.context.session
            session.change_settings(msgspec.structs.replace(session.settings, **settings))
        self.leave(table)

    def leave(self, table):
        assert table.context.session.close() is None
        self.exchange(table.now())

    def shows(self, day):
        """What the player sees and the teacher gets, on that day."""
        now = Table(profile=self.profile, day=MONDAY + timedelta(days=day)).now()
        session = open_session(self.profile, HandClock(), now=lambda: now)
        session.begin_practice()
        found = {
            "coach": session.coach.state,
            "notes": session.notes.mastery,
            "plan": session.plan.progress.steps,
            "progress": progress_of(session),
            "target": session.settings.target_bpm,
            "homes": session.settings.choices,
            "known by ear": [session.log.facts.knows_by_ear(passage(*tune, key=-1)) for tune in TUNES],
        }
        session.close()
        report = write_own_report(self.log, self.profile.folder / "report.html").report
        return found | {"report": report}

    @property
    def fingerprint(self):
        log = open_store(self.log, now_utc=Table(profile=self.profile).now())
        try:
            return fingerprint(log)
        finally:
            log.close()


@pytest.fixture(scope="module")
def week(tmp_path_factory):
    """The five days."""
    folder = tmp_path_factory.mktemp("week")
    cloud = folder / "cloud"
    cloud.mkdir()
    laptop, desk = Home(folder / "laptop", cloud), Home(folder / "desk", cloud)
    laptop.practise(0, RIVER, RIVER, target_bpm=84)
    desk.days_wrong = 1
    desk.practise(0, FORD, RIVER)
    back_up(laptop.log, folder / "monday.sqlite")
    laptop.practise(1, FORD, HILL, FORD)
    desk.practise(1, RIVER, HILL, known=HILL)
    desk.days_wrong = 0
    desk.practise(2, RIVER, FORD, choices={64: (3, 9)})
    laptop.practise(2, RIVER)
    restore(folder / "monday.sqlite", laptop.log, now_utc=Table(profile=laptop.profile).now())
    laptop.practise(3, RIVER, HILL)
    desk.practise(3, HILL)
    laptop.practise(4, FORD)
    desk.practise(4, RIVER)
    friday = Table(profile=laptop.profile, day=MONDAY + timedelta(days=4)).now()
    laptop.exchange(friday)
    third = Home(folder / "third", cloud)
    third.exchange(friday)
    return laptop, desk, third


def test_all_three_hold_the_same_entries(week):
    assert len({home.fingerprint for home in week}) == 1


@pytest.fixture(scope="module")
def shown(week):
    """What each of them shows on Saturday."""
    return [home.shows(5) for home in week]


@pytest.mark.parametrize("what", ["coach", "notes", "plan", "progress", "target", "homes", "known by ear", "report"])
def test_all_three_show_the_same(shown, what):
    """The third one folds all of it in one go; the other two by way of snapshots, and of what came late."""
    laptop, desk, third = (found[what] for found in shown)
    assert laptop == desk == third
    assert third


def test_what_the_wrong_clock_recorded_counts_on_the_days_before_it_was_put_right(shown):
    days = {day.day: day.takes for day in shown[0]["progress"].days}
    assert max(days) == MONDAY + timedelta(days=4)
    assert sum(days.values()) == 17
    assert sorted(days) == sorted(MONDAY + timedelta(days=day) for day in range(5))


def test_nothing_of_it_lies_in_the_shared_folder_but_files_of_each_device(week):
    cloud = week[0].profile.folder.parent / "cloud"
    names = {path.name for path in cloud.rglob("*") if path.is_file()}
    assert not any(name.endswith(".sqlite") for name in names)
    for written in cloud.rglob("written.json"):
        assert json.loads(written.read_text())
