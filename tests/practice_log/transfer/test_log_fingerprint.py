"""A short name for what is in a log."""

from game.practice_log.database.identity import Identity
from game.practice_log.transfer.log_fingerprint import fingerprint
from tests.practice_log.transfer.practised import (
    Computer,
    changed,
    device_named,
    empty_log,
    gathered,
    lines_of,
    split,
    take_in,
)


def test_it_is_the_same_in_whatever_order_and_under_whatever_numbers_things_came():
    one, other = Computer(1).practise(10), Computer(2).practise(10)
    there, back = gathered(lines_of(one.log), lines_of(other.log)), gathered(lines_of(other.log), lines_of(one.log))
    assert fingerprint(there) == fingerprint(back)
    assert len(fingerprint(there)) == 32


def test_one_entry_more_or_one_note_more_makes_another():
    computer = Computer(1)
    found = {fingerprint(computer.log)}
    number, take = computer.play(finish=False)
    found.add(fingerprint(computer.log))
    computer.go_on(number, take)
    found.add(fingerprint(computer.log))
    computer.say()
    found.add(fingerprint(computer.log))
    assert len(found) == 4


def test_neither_the_zone_nor_the_player_makes_a_difference():
    computer = Computer(1)
    computer.say()
    (line,) = split(computer)["fact"]
    ben = Identity(uuid=device_named(9).uuid, name="Ben")
    log = empty_log()
    take_in(log, changed(line, zone=-300, player=str(ben.uuid)), player=ben)
    assert fingerprint(log) == fingerprint(computer.log)
