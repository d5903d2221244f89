"""A PostgreSQL of the tests' own: on a socket in a folder of its own, nowhere to be reached over the network, and gone
with the process that asked for it.
"""

import os
import pwd
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path

import pytest

from tests.system.needs import require, require_module

ADMIN = "admin"
GROUP = "school"
"""The tests that ask the server share a worker: one server serves the whole run."""

_UP_WITHIN_S = 120.0
# Everybody is believed who they say they are, but for one who needs a password.
_WHO = "local all with_password scram-sha-256\nlocal all all trust\n"
_QUICK = ("fsync=off", "full_page_writes=off", "synchronous_commit=off", "autovacuum=off")
_HERE = ("listen_addresses=", "unix_socket_permissions=0777")


class SchoolServer:
    """A server that runs, in which databases can be made."""

    def __init__(self, sockets: Path) -> None:
        self._sockets, self._numbers = sockets, count(1)

    def address(self, database: str, person: str = ADMIN, password: str = "") -> str:
        """Where somebody asks a database."""
        who = f"{person}:{password}" if password else person
        return f"postgresql://{who}@/{database}?host={self._sockets}"

    def made(self, *, template: str = "template0", encoding: str = "UTF8") -> str:
        """The name of a new database, empty or as another one is."""
        import psycopg

        name = f"school_{next(self._numbers)}"
        with psycopg.connect(self.address("postgres"), autocommit=True) as connection:
            connection.execute(f"CREATE DATABASE {name} TEMPLATE {template} ENCODING '{encoding}' STRATEGY file_copy")
        return name


@contextmanager
def school_server_running(*, quick: bool = True) -> Iterator[SchoolServer]:
    """Run a server while the block runs; `quick` lets it forget what it holds when the computer goes off."""
    require_module("psycopg", package="psycopg[binary]")
    initdb = require_of_postgresql("initdb")
    # Short: the path of a socket has a hundred characters at most.
    place = Path(tempfile.mkdtemp(prefix="hf", dir="/dev/shm" if os.access("/dev/shm", os.W_OK) else None))
    user = _user()
    if user:
        shutil.chown(place, user, pwd.getpwnam(user).pw_gid)
    try:
        place.chmod(0o755)
        data = place / "data"
        made = [initdb, "-D", data, "-U", ADMIN, "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync"]
        subprocess.run(made, check=True, capture_output=True, cwd="/", **_as(user))
        (data / "pg_hba.conf").write_text(_WHO, encoding="ascii")
        settings = [part for one in (*(_QUICK if quick else ()), *_HERE) for part in ("-c", one)]
        with (place / "log").open("wb") as log:
            server = subprocess.Popen(
                [*_ending_with_us(), require_of_postgresql("postgres"), "-D", data, "-k", place, *settings],
                stdout=log, stderr=log, cwd="/", **_as(user),
            )  # fmt: skip
        try:
            running = SchoolServer(place)
            _wait_for(running, server, place / "log")
            yield running
        finally:
            # Without waiting for whoever is still connected (PostgreSQL's manual: immediate shutdown).
            server.send_signal(3)
            server.wait(60)
    finally:
        shutil.rmtree(place, ignore_errors=True)


def require_of_postgresql(program: str) -> str:
    """A program of the newest PostgreSQL; Debian keeps them beside each other, off the path."""
    found = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{program}"), key=lambda path: int(path.parts[4]))
    return str(found[-1]) if found else require(program, package="postgresql")


def _user() -> str | None:
    """PostgreSQL refuses to be run by root: it is run by somebody with no rights."""
    if os.geteuid():
        return None
    known = {user.pw_name for user in pwd.getpwall()}
    return "postgres" if "postgres" in known else "nobody"


def _as(user: str | None) -> dict[str, object]:
    return {} if user is None else {"user": user, "group": pwd.getpwnam(user).pw_gid, "extra_groups": []}


def _ending_with_us() -> list[str]:
    """However this process ends, the server ends (Linux)."""
    setpriv = shutil.which("setpriv")
    return [setpriv, "--pdeathsig", "QUIT"] if setpriv else []


def _wait_for(running: SchoolServer, server: "subprocess.Popen[bytes]", log: Path) -> None:
    import psycopg

    until = time.monotonic() + _UP_WITHIN_S
    while True:
        try:
            psycopg.connect(running.address("postgres")).close()
        except psycopg.OperationalError:
            if server.poll() is not None or time.monotonic() > until:
                pytest.fail(f"PostgreSQL does not start: {log.read_text(errors='replace')}")
            time.sleep(0.05)
        else:
            return
