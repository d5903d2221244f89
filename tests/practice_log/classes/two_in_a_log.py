"""A log into which two players played, as they were before each had one."""

from contextlib import closing

from game.practice_log.rows.shared_rows import put_player
from tests.practice_log.transfer.practised import Computer


def two_in_a_log(path, first, second, *, steps=6):
    """A file with the entries of both, on one computer, nobody of whom said to be the other."""
    path.parent.mkdir(parents=True, exist_ok=True)
    computer = Computer(1, path=path, player=first, seed=1).practise(steps)
    with closing(computer.log):
        computer.player = second
        put_player(computer.log, second)
        computer.practise(steps)
        computer.log.execute("PRAGMA journal_mode = DELETE")
    return path
