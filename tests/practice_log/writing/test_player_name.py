"""The name that a player gives themselves is a fact of their log."""

from datetime import timedelta

from game.practice_log.database.opening import opened_log
from game.practice_log.database.store import open_store
from game.practice_log.rows.take_rows import put_take
from game.practice_log.writing.player_name import record_name
from tests.practice_log.logged_takes import DEVICE, MORNING, begun

FACTS = "SELECT about, content FROM fact"


def test_each_name_is_added_and_none_is_taken_away(tmp_path):
    path = tmp_path / "practice.sqlite"
    with open_store(path, now_utc=MORNING) as log:
        put_take(log, begun(), DEVICE)
    log.close()
    for hours, name in enumerate(("Augusta", "Ädä"), start=1):
        record_name(path, name, now=MORNING + timedelta(hours=hours))
    with opened_log(path) as log:
        assert log.execute(FACTS).fetchall() == [("name", '{"name":"Augusta"}'), ("name", '{"name":"Ädä"}')]
        kinds = log.execute("SELECT kind, COUNT(DISTINCT player) FROM entry GROUP BY kind ORDER BY kind").fetchall()
        assert kinds == [("fact", 1), ("take", 1)]


def test_without_a_log_none_is_made(tmp_path):
    record_name(tmp_path / "practice.sqlite", "Ada", now=MORNING)
    assert list(tmp_path.iterdir()) == []
