"""Entries from elsewhere into their place in time."""

from game.practice_log.documents import moments_brought
from game.practice_log.rows.entry_rows import About
from tests.practice_log.transfer.practised import Computer, gathered, lines_of, split, take_in, told


def moments(log):
    return log.execute("SELECT sequence, moment_us FROM entry ORDER BY sequence").fetchall()


def test_a_device_whose_clock_was_put_right_stands_where_it_stands_at_home():
    computer = Computer(1)
    computer.minutes = 600
    computer.say()
    computer.minutes = 10
    computer.say()
    (clock,) = computer.log.execute("SELECT COUNT(*) FROM fact WHERE about = ?", (About.CLOCK.value,)).fetchone()
    assert clock == 1
    assert told(gathered(lines_of(computer.log))) == told(computer.log)
    facts = split(computer)["fact"]
    assert told(gathered(*reversed(facts))) == told(computer.log)


def test_what_a_device_recorded_earlier_may_come_later():
    computer = Computer(1)
    for minutes in (10, 20, 30):
        computer.minutes = minutes
        computer.say()
    first, second, third = split(computer)["fact"]
    log = gathered(third, first, second)
    assert moments(log) == moments(computer.log)


def test_what_comes_in_order_settles_nothing(monkeypatch):
    computer = Computer(1)
    for minutes in (10, 20):
        computer.minutes = minutes
        computer.say()
    monkeypatch.setattr(moments_brought, "settle_moments", lambda *_: 1 / 0)
    log = gathered(*split(computer)["fact"])
    assert take_in(log, lines_of(computer.log)).changed is False
    assert moments(log) == moments(computer.log)
