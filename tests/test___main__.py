"""The program as it is started: what Ctrl-C did before holds afterwards, for whoever runs it from within Python."""

import signal
import sys

import pytest

from game.__main__ import main
from game.commands import main as commands
from game.commands.interruption import say_again


@pytest.mark.parametrize("ended", [0, KeyboardInterrupt], ids=["well", "interrupted"])
def test_while_it_runs_ctrl_c_is_raised_and_never_lost_and_then_all_is_as_before(ended, monkeypatch, capsys):
    met = []

    def run(words):
        assert signal.getsignal(signal.SIGINT) is signal.SIG_DFL
        met.extend((words, sys.unraisablehook))
        if ended:
            raise ended
        return 0

    before = signal.getsignal(signal.SIGINT), sys.unraisablehook
    assert before[0] is signal.default_int_handler
    monkeypatch.setattr(commands, "main", run)
    assert main(["players"]) == (130 if ended else 0)
    assert met == [["players"], say_again]
    assert (signal.getsignal(signal.SIGINT), sys.unraisablehook) == before
    assert capsys.readouterr() == ("", "")
