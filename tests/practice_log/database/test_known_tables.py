"""What a log of this program may hold."""

import re
from contextlib import closing

from game.practice_log.database.known_tables import known_columns, known_objects, objects_in
from game.practice_log.database.store import open_store
from tests.practice_log.logged_takes import MORNING


def test_each_table_refers_only_to_those_before_it():
    with closing(open_store(None, now_utc=MORNING)) as log:
        seen = set()
        for table in known_columns():
            seen.add(table)
            assert {row[2] for row in log.execute(f"PRAGMA foreign_key_list({table})")} <= seen


def test_names_that_go_into_statements_are_plain_words():
    for table, columns in known_columns().items():
        assert all(re.fullmatch("[a-z_]+", name) for name in (table, *columns))
    assert "migration" not in known_columns()


def test_everything_in_a_log_of_ours_is_known():
    with closing(open_store(None, now_utc=MORNING)) as log:
        assert objects_in(log) <= known_objects()


def test_what_was_planted_is_not():
    with closing(open_store(None, now_utc=MORNING)) as log:
        log.execute("CREATE VIEW planted AS SELECT 1")
        log.execute("DROP TRIGGER take_no_update")
        log.execute("CREATE TRIGGER take_no_update BEFORE UPDATE ON take BEGIN SELECT 1; END")
        assert {name for _, name, _ in objects_in(log) - known_objects()} == {"planted", "take_no_update"}
