"""For all tests: no window, no sound card, and never the player's own folders."""

import gc
import os
import shutil
import signal
import sys
from collections.abc import Iterator
from contextlib import suppress
from importlib import import_module
from itertools import count
from pathlib import Path
from typing import Any
from zlib import crc32

import pytest
from hypothesis import settings

from game.engraving import engraver
from game.text.catalogue import _Chosen, catalogue_in, choose
from tests.copied_logs import copy_logs
from tests.prepared_background import PREPARED_BACKGROUND
from tests.prepared_limits import PREPARED_LIMITS
from tests.sampling import VARIABLE, how_many, left_out_of, runs_all
from tests.school_server import GROUP, SchoolServer, school_server_running
from tests.shared_readers import SHARED_READERS

# Machines are noisy: no test fails for being slow. The same examples on every run, so that a red run can be repeated;
# of those hypothesis makes of itself a part, but where everything is asked for.
settings.register_profile("homefret", deadline=None, derandomize=True, max_examples=how_many(100, by_default=15))
settings.load_profile("homefret")

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
os.environ.setdefault("SDL_AUDIODRIVER", "dummy")
os.environ["HOMEFRET_LANGUAGE"] = "en"  # whatever the computer speaks on which the tests run
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
# The tests start the program hundreds of times, and three workers load all tests: what is compiled once is kept,
# whatever is usual on the computer.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False


_MEMORY = Path("/dev/shm")
_ENOUGH_MEMORY = 3 * 2**30
_TEMPORARY = "PYTEST_DEBUG_TEMPROOT"

_FIRST = -10

_LONGEST_NAME = 80

_homes = count()


def pytest_configure(config: pytest.Config) -> None:
    """Where the computer keeps files in memory and has much of it, the tests' are there: thousands of small logs are
    written, and each waits for the disk to have it for certain.
    """
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        # In the background of a shell: whatever the tests start would pass Ctrl-C over as well.
        signal.signal(signal.SIGINT, signal.default_int_handler)
    begins = not hasattr(config, "workerinput") and _TEMPORARY not in os.environ
    has_room = _MEMORY.is_dir() and os.access(_MEMORY, os.W_OK) and shutil.disk_usage(_MEMORY).free >= _ENOUGH_MEMORY
    if begins and has_room:
        os.environ[_TEMPORARY] = str(_MEMORY)
        config.stash[_in_memory] = True


_in_memory = pytest.StashKey[bool]()


def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    """What failed can be looked at afterwards; else the memory is free again."""
    if session.config.stash.get(_in_memory, default=False) and exitstatus == pytest.ExitCode.OK:
        shutil.rmtree(session.config._tmp_path_factory.getbasetemp(), ignore_errors=True)


def pytest_collection_finish() -> None:
    """What was collected stays to the end: no collection of garbage need look at it, now or again and again."""
    gc.enable()
    gc.freeze()


@pytest.hookimpl(tryfirst=True)
def pytest_collection(session: pytest.Session) -> None:
    """Each worker loads another part of the tests first: pytest compiles each for its asserts, which takes longest, and
    the other workers find what was compiled. Nothing of it is garbage: none is looked for meanwhile.
    """
    gc.disable()
    workers = int(os.environ.get("PYTEST_XDIST_WORKER_COUNT", "0"))
    if workers < 2 or session.config.args != session.config.getini("testpaths"):
        return
    root = session.config.rootpath
    ours = sorted(root.glob("tests/**/test_*.py"))[int(os.environ["PYTEST_XDIST_WORKER"][2:]) :: workers]
    for path in ours:
        # What it cannot load pytest tells of later, in its own words.
        with suppress(Exception, pytest.skip.Exception):
            import_module(".".join(path.relative_to(root).with_suffix("").parts))


@pytest.fixture(scope="session", autouse=True)
def never_lowered() -> Iterator[None]:
    """What lowers the process it runs in, behind the game, is called in the tests' own here and there: a worker that
    was lowered would wait behind the others to the end.
    """
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(os, "nice", lambda _: 0, raising=False)
        yield


@pytest.fixture(scope="session", autouse=True)
def readers_shared() -> Iterator[None]:
    """The processes that read tunes are shared by the tests of a worker; those that read other files from elsewhere,
    and those behind the game, are copies of one; where everything is asked for, each is a new one.
    """
    with pytest.MonkeyPatch.context() as patched:
        if not runs_all():
            SHARED_READERS.put_in(patched.setattr)
            PREPARED_LIMITS.put_in(patched.setattr)
            PREPARED_BACKGROUND.put_in(patched.setattr)
        yield
        SHARED_READERS.end()
        PREPARED_LIMITS.end()
        PREPARED_BACKGROUND.end()


@pytest.fixture(scope="session", autouse=True)
def logs_copied() -> Iterator[None]:
    """New logs are copied from one; where everything is asked for, each is made step by step."""
    with pytest.MonkeyPatch.context() as patched:
        if not runs_all():
            copy_logs(patched.setattr)
        yield


@pytest.fixture(scope="session", autouse=True)
def engraved_once() -> Iterator[None]:
    """The same notation is engraved once for all tests of a worker: verovio gives the same page for it."""
    by_verovio = engraver._svg
    known: dict[tuple[str, str], str] = {}

    def svg(musicxml: str, options: dict[str, Any]) -> str:
        asked = musicxml, repr(options)
        if asked not in known:
            known[asked] = by_verovio(musicxml, options)
        return known[asked]

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(engraver, "_svg", svg)
        yield


@pytest.fixture(scope="session")
def school_server() -> Iterator[SchoolServer]:
    """A PostgreSQL of the tests' own; where none is installed, what asks for it is skipped."""
    with school_server_running() as running:
        yield running


@pytest.fixture(scope="session")
def school_set_up(school_server: SchoolServer) -> str:
    """The name of a database that was set up for a school, and holds nobody; to be taken as a template."""
    from game.practice_log.school.school_connection import school_connection
    from game.practice_log.school.school_schema import set_up_school

    name = school_server.made()
    with school_connection(school_server.address(name)) as connection:
        set_up_school(connection)
    return name


@pytest.fixture
def school(request: pytest.FixtureRequest, school_server: SchoolServer) -> str:
    """The name of a database of a school in which nobody is yet; for this test alone, which takes a while."""
    if not runs_all():
        pytest.skip(f"a database for one test alone, which the default run has not: {VARIABLE}=all")
    return school_server.made(template=request.getfixturevalue("school_set_up"))


def pytest_make_parametrize_id(val: object) -> str | None:
    """A case that is a text of a million letters is called by its first: each name goes to and fro between processes,
    and into the environment of each that is started.
    """
    if isinstance(val, str | bytes) and len(val) > _LONGEST_NAME:
        return f"{val[:_LONGEST_NAME]!a}..."
    return None


def pytest_report_header() -> str:
    """Whether this run is the sample or the whole."""
    return (
        "everything is run" if runs_all() else f"of what is slow or many a sample is run: {VARIABLE}=all for everything"
    )


@pytest.hookimpl(tryfirst=True)  # before xdist looks for the groups
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Of many cases a few are kept where the tests of all folders are run. Which tests share a worker: those that drive
    the program in real time, so that none disturbs another's clock; and those of a module that makes something once for
    all of them, so that it is made once. In the default run so do those of every module: ten thousand are sent out
    quicker by a thousand modules than one by one. Where everything is run, single tests take minutes, and go wherever
    there is room. The program in real time comes first: it takes longest, mostly waiting, while the other workers do
    the rest.
    """
    if config.args == config.getini("testpaths") and not config.option.keyword:
        left_out = left_out_of(item.nodeid for item in items)
        config.hook.pytest_deselected(items=[item for item in items if item.nodeid in left_out])
        items[:] = [item for item in items if item.nodeid not in left_out]
    items.sort(key=lambda item: item.get_closest_marker("system") is None)
    for item in items:
        if item.get_closest_marker("system"):
            item.add_marker(pytest.mark.xdist_group("system"))
        elif "school_server" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.xdist_group(GROUP))
        elif item.get_closest_marker("xdist_group") is None and (not runs_all() or _makes_once_for_all(item)):
            item.add_marker(pytest.mark.xdist_group(item.nodeid.split("::")[0]))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[Any]:
    """What drives the program in real time comes before what the other workers reckon, where the system allows that (as
    root, as in CI): sound and MIDI servers drop who answers them late, and what was played is lost.
    """
    in_real_time = any(item.get_closest_marker(mark) for mark in ("system", "in_time"))
    first = in_real_time and _set_priority(_FIRST)
    try:
        return (yield)
    finally:
        if first:
            _set_priority(0)


def _set_priority(niceness: int) -> bool:
    """Whether this process, and what it starts from now on, could be given a niceness."""
    try:
        os.setpriority(os.PRIO_PROCESS, 0, niceness)
    except (AttributeError, PermissionError):
        return False
    return True


def _makes_once_for_all(item: pytest.Item) -> bool:
    """Whether a test asks for a fixture of its whole module."""
    # As pytest found them when it made the test: to ask it for each name once more takes a tenth of all loading.
    found = item._fixtureinfo.name2fixturedefs if isinstance(item, pytest.Function) else {}
    return any(made.scope == "module" for known in found.values() for made in known)


@pytest.fixture(autouse=True)
def own_home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Each test has an empty home, until its end: what a test undoes of its own does not lead it into a real one."""
    # Numbered by ourselves: to find the next number pytest looks at all folders of all tests there were.
    home = tmp_path_factory.getbasetemp() / "homes" / str(next(_homes))
    home.mkdir(parents=True)
    with pytest.MonkeyPatch.context() as environment:
        for name, folder in (("HOME", ""), ("XDG_DATA_HOME", "data"), ("XDG_CONFIG_HOME", "config")):
            environment.setenv(name, str(home / folder))
        # matplotlib makes a list of all fonts in each new home, which takes seconds.
        environment.setenv("MPLCONFIGDIR", str(tmp_path_factory.getbasetemp() / "matplotlib"))
        yield home


@pytest.fixture(autouse=True)
def nothing_left_over(request: pytest.FixtureRequest) -> Iterator[None]:
    """Each test begins in English, whatever the one before has chosen, and leaves the program speaking English. The
    tables that it laid are cleared behind it: hundreds of logs and instruments, each with its files and a thread, would
    gather in one worker. Which pictures on them are drawn is theirs to say.
    """
    _Chosen.catalogue = None
    table = sys.modules.get("tests.screens.table")
    if table is not None:
        at_once = runs_all() or _patches(request.node)
        table.Table.draws_at_once = table.Table.turns_pages = at_once
        # Of a third of the tests, always the same ones.
        table.Table.draws_last = at_once or crc32(request.node.name.encode()) % 3 == 0
    before = len(_tables())
    yield
    laid = _tables()
    while len(laid) > before:
        laid.pop().clear()
    choose(catalogue_in("en"))


def _tables() -> list[Any]:
    module = sys.modules.get("tests.screens.table")
    return module.TABLES_LAID if module else []


def _patches(item: pytest.Item) -> bool:
    """Whether a test, or a fixture that it asks for by name, puts something in the place of something else."""
    known = item._fixtureinfo.name2fixturedefs
    names = [*item._fixtureinfo.argnames, *(name for mark in item.iter_markers("usefixtures") for name in mark.args)]
    for name in names:
        asked = known[name][-1].argnames if name in known else ()
        names.extend(one for one in asked if one not in names)
    return "monkeypatch" in names
