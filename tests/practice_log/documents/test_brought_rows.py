"""Documents into the tables."""

from hypothesis import given
from hypothesis import strategies as st

from game.practice_log.documents.brought_rows import written_utc
from game.practice_log.rows.entry_rows import time_of
from game.practice_log.rows.row_values import utc_text
from tests.practice_log.transfer.practised import Computer, device_named, gathered, lines_of, take_in

RARE = ("event", "named", "unread", "taken_in", "take_tune")


def test_takes_are_numbered_anew_by_their_device_in_each_log():
    first = Computer(1)
    first.play()
    log = Computer(2)
    log.play()
    take_in(log.log, lines_of(first.log))
    numbers = log.log.execute("SELECT uuid, number FROM take JOIN device USING (device) ORDER BY uuid").fetchall()
    assert numbers == [(str(device_named(1).uuid), 1), (str(device_named(2).uuid), 1)]


def test_every_row_of_every_table_comes_along():
    computer = Computer(1).practise(30)
    log = gathered(lines_of(computer.log))
    for (
        table
    ) in "take played revised help name_given judgement verdict answer event named coach_event decision fact".split():
        count = f"SELECT COUNT(*) FROM {table}"
        assert log.execute(count).fetchone() == computer.log.execute(count).fetchone(), table
        assert table in ("event", "named", "unread", "taken_in", "take_tune") or log.execute(count).fetchone() > (0,), (
            table
        )


def test_the_time_of_a_row_is_that_of_its_entry():
    computer = Computer(1).practise(10)
    log = gathered(lines_of(computer.log))
    select = "SELECT started_utc FROM take UNION SELECT ended_utc FROM judgement UNION SELECT at_utc FROM coach_event"
    assert log.execute(select).fetchall() == computer.log.execute(select).fetchall()


@given(st.integers(-(10**15), 2 * 10**17))
def test_a_time_is_written_as_everywhere_in_the_log(at_us):
    # From 1938 into the ninth millennium: more than a clock may show.
    assert written_utc(at_us) == utc_text(time_of(at_us))
