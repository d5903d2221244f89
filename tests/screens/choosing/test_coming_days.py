"""What the next first frame shows is what Today will be, on whatever day that is."""

import shutil
from datetime import timedelta

import pytest

from game.player.prepared_sheet import read_prepared
from game.screens.choosing import coming_days
from game.screens.choosing.coming_days import DAYS, begin_preparing, prepare
from game.screens.choosing.first_screen import first_screen
from game.screens.choosing.today_sheet import TodaySheet
from game.screens.routes import ToToday
from game.text.catalogue import chosen
from tests.sampling import only_where_all_is_run, sample
from tests.screens.table import Table


@pytest.fixture(scope="module")
def played(tmp_path_factory):
    """The folder of a player who has played, and the settings."""
    table = Table(tmp_path_factory.mktemp("played"))
    for rows in (("F4 q, G4 q, A4 h", "C5 q, D5 q, E5 h"), ("C4 q, D4 q, E4 h",)):
        table.open(*rows)
        table.play_through(each_s=0.4)
    table.settle(plan_minutes=30)
    table.context.change_settings(table.context.settings)
    assert table.context.session.close() is None
    return table.context.session.folder, table.context.settings


@pytest.fixture
def left(played, tmp_path):
    """A game that was played and left."""
    folder, settings = played
    shutil.copytree(folder, tmp_path, dirs_exist_ok=True)
    table = Table(tmp_path, settings)
    assert table.context.session.log.flush()
    assert table.context.session.close() is None
    return table


def prepared(table, ahead):
    session = table.context.session
    day = session.today() + timedelta(days=ahead)
    return read_prepared(session.folder, day, TodaySheet, session.settings, chosen().language)


@pytest.mark.parametrize("ahead", sample([0, 1, DAYS - 1], by_default=1))
def test_each_day_is_prepared_as_it_will_be(left, tmp_path, ahead):
    prepare(left.context.session.profile, left.now())
    later = Table(tmp_path, settings=left.context.settings)
    later.day += ahead
    later.context.session.plan.replan()
    later.go(ToToday())
    assert prepared(left, ahead) == (later.screen.sheet, True)


def test_the_first_frame_of_a_day_that_was_prepared_is_the_picture_of_the_whole(left, tmp_path):
    prepare(left.context.session.profile, left.now())
    later = Table(tmp_path, settings=left.context.settings)
    later.app.screen = first_screen(later.context)
    first = later.picture()
    later.app.begin()
    assert later.screen_name == "TodayScreen"
    assert later.picture() == first


def test_nothing_of_the_log_of_the_player_is_changed(left):
    log = left.context.session.profile.log_path
    before = log.read_bytes()
    prepare(left.context.session.profile, left.now())
    assert log.read_bytes() == before


def test_where_nobody_has_played_nothing_is_prepared(tmp_path):
    table = Table(tmp_path)
    assert table.context.session.log.flush()
    assert table.context.session.close() is None
    prepare(table.context.session.profile, table.now())
    assert prepared(table, 0) is None


def test_without_a_log_or_with_one_that_cannot_be_read_nothing_is_prepared(left):
    profile = left.context.session.profile
    profile.log_path.write_bytes(b"no database at all")
    prepare(profile, left.now())
    assert prepared(left, 0) is None
    profile.log_path.unlink()
    prepare(profile, left.now())
    assert prepared(left, 0) is None


@only_where_all_is_run("a whole process of its own")
def test_another_process_does_it(left):
    begin_preparing(left.context.session).wait(120.0)
    assert (left.context.session.folder / "today.prepared").exists()


def test_the_copy_it_works_on_lies_with_the_files_of_the_player_and_nothing_of_it_stays(left, monkeypatch):
    profile, seen = left.context.session.profile, []
    (profile.folder / "next-start-left").mkdir()
    real = coming_days.today_sheet
    monkeypatch.setattr(
        coming_days, "today_sheet", lambda context: seen.append(context.session.folder.parent) or real(context)
    )
    prepare(profile, left.now())
    assert set(seen) == {profile.folder}
    assert [path for path in profile.folder.iterdir() if path.is_dir()] == []
