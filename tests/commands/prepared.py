"""Runs the program again and again without loading it each time: a process that has loaded what was needed before, and
makes a copy of itself for each run. The copies ask the same reading process, one after the other.

Asked by lines of JSON on standard input: the words, the environment, and the files for what is printed. Answers each
with the exit status.
"""

import gc
import json
import os
import subprocess
import sys
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from runpy import run_module

from tests.copied_logs import copy_logs
from tests.prepared_limits import PREPARED_LIMITS
from tests.shared_readers import SHARED_READERS

ROOT = Path(__file__).parents[2]
# What is settled when an interpreter begins: where it differs another interpreter is needed.
SETTLED = ("PYTHON", "LANG", "LC_", "LANGUAGE", "TZ", "LD_", "PATH")


class PreparedProgram:
    """One such process, in the folder of the project."""

    def __init__(self) -> None:
        self._settled = _settled(os.environ)
        self._process = subprocess.Popen(
            [sys.executable, "-c", "from tests.commands.prepared import main; main()"],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def can_run(self, environment: dict[str, str]) -> bool:
        """Whether it stands in for a new process with this environment."""
        return self._process.poll() is None and _settled(environment) == self._settled

    def run(self, words: list[str], environment: dict[str, str], folder: Path) -> subprocess.CompletedProcess[str]:
        """Run the program with some words; what it prints passes through files in `folder`."""
        out, err = folder / "printed", folder / "complaints"
        asked = {"words": words, "environment": environment, "out": str(out), "err": str(err)}
        self._process.stdin.write(json.dumps(asked) + "\n")
        self._process.stdin.flush()
        status = int(self._process.stdout.readline())
        return subprocess.CompletedProcess(words, status, out.read_text(), err.read_text())

    def close(self) -> None:
        """End it."""
        self._process.stdin.close()
        self._process.stdout.close()
        self._process.wait()


def _settled(environment: dict[str, str]) -> dict[str, str]:
    return {name: value for name, value in environment.items() if name.startswith(SETTLED)}


def main() -> None:
    """Answer until standard input closes."""
    asked, answers = os.fdopen(os.dup(0)), os.fdopen(os.dup(1), "w")
    nothing = os.open(os.devnull, os.O_RDWR)
    os.dup2(nothing, 0)
    os.dup2(nothing, 1)
    SHARED_READERS.put_in()
    PREPARED_LIMITS.put_in()
    copy_logs()
    while line := asked.readline():
        request = json.loads(line)
        read_end, write_end = os.pipe()
        gc.collect()
        gc.freeze()
        child = os.fork()
        if not child:
            SHARED_READERS.are_inherited()
            asked.close()
            answers.close()
            os.close(read_end)
            _run(request, write_end)
        os.close(write_end)
        with os.fdopen(read_end) as told:
            end = json.loads(told.read() or "{}")
        _, status = os.waitpid(child, 0)
        SHARED_READERS.keep(end.get("readers", ()))
        if end.get("started") and not SHARED_READERS.at_rest:
            SHARED_READERS.start_one()
        PREPARED_LIMITS.make_ready(end.get("limits", ()))
        answers.write(f"{os.waitstatus_to_exitcode(status)}\n")
        answers.flush()
        for name in end.get("loaded", ()):
            with suppress(Exception):
                import_module(name)


def _run(request: dict, write_end: int) -> None:
    """As `python -m game` would, in the copy; at the end it tells what it loaded."""
    os.environ.clear()
    os.environ.update(request["environment"])
    for number, name in ((1, "out"), (2, "err")):
        file = os.open(request[name], os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(file, number)
        os.close(file)
    sys.argv = ["game", *request["words"]]
    known, lent = set(sys.modules), SHARED_READERS.at_rest
    try:
        run_module("game", run_name="__main__", alter_sys=True)
    finally:
        # Those that the copy has started itself go with it.
        SHARED_READERS.keep(lent)
        with os.fdopen(write_end, "w") as telling:
            told = {
                "loaded": [name for name in sys.modules if name not in known],
                "readers": SHARED_READERS.at_rest,
                "started": SHARED_READERS.started,
                "limits": PREPARED_LIMITS.ready,
            }
            json.dump(told, telling)
