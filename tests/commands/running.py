"""Runs the program as its user does: a process of its own, what it printed, and how it ended.

By default that process is a copy of one that has loaded the program before; where everything is asked for it is a new
interpreter each time.
"""

import atexit
import json
import os
import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path

import jsonschema

from game.paths import shipped
from tests.commands.prepared import PreparedProgram
from tests.sampling import runs_all

ROOT = Path(__file__).parents[2]


def homefret(*words, **environment):
    """Run `homefret` with `words`; a variable given as None is taken out of the environment."""
    changed = {name: value for name, value in {**os.environ, **environment}.items() if value is not None}
    plain = [str(word) for word in words]
    if not runs_all() and hasattr(os, "fork") and _prepared().can_run(changed):
        with tempfile.TemporaryDirectory() as folder:
            return _prepared().run(plain, changed, Path(folder))
    return subprocess.run(
        [sys.executable, "-m", "game", *plain],
        cwd=ROOT,
        env=changed,
        capture_output=True,
        text=True,
        check=False,
        timeout=600,  # weeks of a simulated player, beside the other tests
    )


@cache
def _prepared() -> PreparedProgram:
    program = PreparedProgram()
    atexit.register(program.close)
    return program


def answer(command, *words, **environment):
    """The JSON answer of a command that goes well, held against its schema."""
    done = homefret(command, *words, "--json", **environment)
    assert (done.returncode, done.stderr) == (0, "")
    read = json.loads(done.stdout)
    schema = json.loads(shipped("content", "schemas", f"{command}.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(read, schema, cls=jsonschema.Draft202012Validator)
    return read


@cache
def notes_of(tune):
    """The notes of a tune as the `score` command tells them: asked for once by all tests of a worker."""
    return tuple(answer("score", tune)["notes"])


def refused(*words):
    """The one line with which a user's mistake ends."""
    done = homefret(*words)
    assert (done.returncode, done.stdout) == (2, "")
    (line,) = done.stderr.splitlines()
    assert line.startswith("homefret: ")
    return line
