"""What is in a log, all told."""

from game.practice_log.transfer.log_fingerprint import fingerprint
from game.practice_log.transfer.log_summary import log_summary
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import Computer, empty_log, gathered, lines_of


def test_of_an_empty_log_there_is_nothing_to_tell():
    summary = log_summary(empty_log())
    assert (summary.player, summary.devices, summary.days, summary.first, summary.notes) == (None, (), 0, None, 0)


def test_devices_come_by_how_much_was_played_on_them():
    one, other = Computer(1), Computer(2)
    for computer in (one, other, other):
        computer.play()
    summary = log_summary(gathered(lines_of(one.log), lines_of(other.log)))
    assert summary.player == PLAYER
    assert [(device.name, device.takes) for device in summary.devices] == [("computer 2", 2), ("computer 1", 1)]


def test_days_are_those_of_the_zone_in_which_each_take_was_played():
    computer = Computer(1, zone_minutes=840)
    computer.minutes = 10 * 60
    computer.play()
    summary = log_summary(computer.log)
    assert summary.first == summary.last == computer.now.date().isoformat()
    assert summary.fingerprint == fingerprint(computer.log)
