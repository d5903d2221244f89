"""A command from its words to its exit status."""

import os
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from game.commands import main as module
from game.commands import play_command
from game.commands.main import main
from game.player.profiles import players
from tests.commands.running import ROOT
from tests.sampling import sample


def test_a_command_that_goes_well_ends_with_0(capsys):
    assert main(["players"]) == 0
    assert capsys.readouterr().out.startswith("name")


def test_a_mistake_of_the_users_ends_with_2_and_one_line(capsys):
    assert main(["map", "--frets", "3"]) == 2
    assert capsys.readouterr() == ("", "homefret: a neck has 4 to 30 frets, not 3\n")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="asks for a disk that is always full")
@pytest.mark.parametrize("words", sample([["players"], ["map", "--json"], ["--help"]], by_default=1), ids=" ".join)
def test_what_cannot_be_printed_is_told_in_one_line(words):
    status, err = run_with(words, ">/dev/full")
    (line,) = err.splitlines()
    assert status == 2
    assert line.startswith("homefret: what was to be printed cannot be written (No space left on device): ")


@pytest.mark.parametrize(
    ("words", "where", "status"),
    sample(
        [(["players"], "| true", 1), (["map"], "| head -n 1 >/dev/null", 1), (["players", "--json"], ">&-", 0)],
        by_default=1,
    ),
)
def test_whoever_reads_no_further_hears_no_complaint(words, where, status):
    told = run_with(words, where)
    assert told in ((status, ""), (0, "")), "a reader may take all of it before it goes"


def run_with(words, where):
    """The program in a shell that sends what is printed somewhere; its exit status, and what it complained of."""
    program = shlex.join([sys.executable, "-m", "game", *words])
    shell = shutil.which("bash")
    if shell is None:
        pytest.skip("asks a shell for the status of what stands before a pipe")
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}
    line = f"{program} {where}; exit ${{PIPESTATUS[0]}}"
    done = subprocess.run([shell, "-c", line], capture_output=True, text=True, check=False, cwd=ROOT, env=environment)
    return done.returncode, done.stderr


@pytest.mark.parametrize(
    ("words", "reason"),
    [(["gather", "x" * 300], "File name too long"), (["line", "--out", "/"], "Is a directory")],
)
def test_what_the_system_refuses_is_told_in_one_line(words, reason, capsys):
    assert main(words) == 2
    out, err = capsys.readouterr()
    assert (out, len(err.splitlines())) == ("", 1)
    assert reason in err


def test_a_fault_of_ours_is_no_mistake_of_the_users(monkeypatch):
    def failing(_words):
        raise OSError(9, "Bad file descriptor")

    monkeypatch.setattr(module, "_done", failing)
    with pytest.raises(OSError, match="Bad file descriptor"):
        main(["map"])


def test_a_command_that_nobody_reads_ends_quietly(monkeypatch, capsys):
    def unread(_words):
        raise BrokenPipeError

    monkeypatch.setattr(module, "_done", unread)
    assert main(["map"]) == 1
    assert capsys.readouterr() == ("", "")


def test_without_a_word_it_is_the_game(monkeypatch):
    monkeypatch.setattr(play_command, "run", lambda files: 7 + len(files))
    assert main([]) == 7


def test_the_version_is_told(capsys):
    with pytest.raises(SystemExit) as ended:
        main(["--version"])
    assert ended.value.code == 0
    assert capsys.readouterr().out.startswith("homefret 0.")


def test_a_command_for_a_player_speaks_that_players_language(monkeypatch, capsys):
    monkeypatch.delenv("HOMEFRET_LANGUAGE")
    monkeypatch.setenv("LC_ALL", "C")
    main(["players", "--add", "Fink"])
    (path,) = [player.settings_path for player in players() if player.name == "Fink"]
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text('{"language": "de"}', encoding="utf-8")
    capsys.readouterr()
    assert main(["log", "--player", "Fink"]) == 0
    assert capsys.readouterr().out.startswith("0 Durchgänge in ")
    assert main(["log"]) == 0
    assert capsys.readouterr().out.startswith("0 takes in ")
