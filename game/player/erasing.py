"""A player and all they played, removed from this computer for good. What is everybody's stays: the library, and
whatever belongs to other players.
"""

import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from uuid import UUID

import msgspec

from game.errors import LogError, reason_of
from game.message import message
from game.paths import user_data, user_settings
from game.player.class_place import CLASSES, class_place
from game.player.kept_of_class import kept_list
from game.player.players_file import FIRST_ID, PlayerError, read_players, write_players
from game.player.profiles import Profile, first_player, players
from game.player.written_pages import written_of
from game.practice_log.classes.class_list import read_class_list
from game.practice_log.classes.erased_student import erase_from_class, students_in_class
from game.practice_log.classes.students_in_folder import FilesByStudent, StudentFiles, joined, students_in_folder
from game.practice_log.database.identity import PLAYER_FILE, Identity, read_identity
from game.practice_log.database.in_use import not_in_use
from game.practice_log.rows.one_player import ids_in_log
from game.practice_log.transfer.erased import is_mark, mark_erased
from game.practice_log.transfer.files_to_gather import LOG_ENDING
from game.practice_log.transfer.log_without import journals_of, write_log_without
from game.practice_log.transfer.shared_folder import player_folder
from game.practice_log.writing.rescue import rescue_files

_EVERYBODYS = ("library", "players", "players.json", CLASSES)
"""What lies in the first player's folders and is not theirs."""

FEWEST_DIGITS = 8
"""So many digits of an id tell somebody from all others there, or else several are named."""

_MOST_NAMED = 40
"""Of more than a class nobody reads the names in a sentence."""

_HELD = ".in-use"
"""The end of the name of the file that is held open while a player is erased."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayerFiles:
    """What there is of a player: the ids and names by which they are known; their files and folders on this computer;
    and those in the folder `shared`, where that was asked for too. `player` is None for one who is only there.

    `school` is the address of a school's database from which they go. `in_logs` are logs there into which others played
    too: they are written anew without this player. `classes` are the gathered files they are in, and `pages` what was
    written of them; in `paged` are the ids by any of which a page of theirs may be called: their own, and those of
    whoever a class took for the same student. The `lists` by which these classes are named name them too, as do the
    `texts` of assignments. Nobody can tell whose the files in `unknown` are.
    """

    player: Profile | None
    ids: frozenset[UUID]
    names: frozenset[str] = frozenset()
    paths: tuple[Path, ...] = ()
    shared: Path | None = None
    school: str = ""
    paged: frozenset[UUID] = frozenset()
    in_shared: tuple[Path, ...] = ()
    in_logs: tuple[Path, ...] = ()
    classes: tuple[Path, ...] = ()
    pages: tuple[Path, ...] = ()
    lists: tuple[Path, ...] = ()
    texts: tuple[Path, ...] = ()
    unknown: tuple[Path, ...] = ()

    @property
    def files(self) -> tuple[Path, ...]:
        """Each file that goes, those in folders too."""
        paths = (*self.paths, *self.in_shared, *self.pages)
        inside = (file for path in paths for file in (path, *sorted(path.rglob("*"))))
        return tuple(file for file in inside if file.is_symlink() or file.is_file())


def player_files(wanted: str, shared: Path | None = None, *, school: str = "") -> PlayerFiles:
    """What there is of the player of this name, or of this id, of which the first eight digits are enough; in a shared
    folder, in a teacher's folder of a class, in a class that was gathered or in a `school`, too, where one is given.
    Raises `PlayerError` where nobody has it, or several have, or there is no such folder, and `LogError` for a class
    that cannot be read.
    """
    if shared is not None and not shared.exists():
        raise PlayerError("player.no_shared_folder", folder=shared)
    here = {player: _ids(player) for player in players()}
    there = _students_in_school(school) if school else _students_in(shared)
    known = [StudentFiles(ids, frozenset({player.name} - {""})) for player, ids in here.items() if ids]
    people = [one for one in joined([*known, *there.students]) if is_meant(wanted, one)]
    if not people:
        people = [_by_id_alone(wanted, shared, here, there)]
    if len(people) > 1:
        told = tuple(_told_with_file(one, shared) for one in sorted(people, key=lambda one: sorted(one.ids)))
        raise PlayerError("player.several_to_erase", given=wanted, people=told)
    (person,) = people
    player = next((player for player, ids in here.items() if ids & person.ids), None)
    if player is None and not person.ids:
        player = next(one for one in here if one.name.casefold() == wanted.strip().casefold())
    folders = _folders_there(shared, person.ids)
    return PlayerFiles(
        player=player,
        ids=person.ids,
        names=person.names,
        paths=() if player is None else tuple(_paths(player)),
        shared=shared,
        school=school,
        paged=person.ids.union(*(one.ids for one in _gathered(_classes_of(shared)) if one.ids & person.ids)),
        in_shared=(*folders, *_outside(person.own, folders)),
        in_logs=tuple(_outside(person.shared, folders)),
        classes=_classes_of(shared),
        lists=tuple(_lists_naming(person, shared)),
        unknown=there.unknown,
    )


def is_meant(wanted: str, person: StudentFiles) -> bool:
    """Whether a person is meant by a name, or by an id or its first eight digits or more."""
    said = wanted.strip().casefold()
    digits = said.replace("-", "")
    by_id = len(digits) >= FEWEST_DIGITS and any(uuid.hex.startswith(digits) for uuid in person.ids)
    return by_id or said in {name.casefold() for name in person.names}


def _by_id_alone(
    wanted: str, shared: Path | None, here: Mapping[Profile, frozenset[UUID]], there: FilesByStudent
) -> StudentFiles:
    """Who has a name but no log yet; or has an id, and nothing of them is found but a folder."""
    said = wanted.strip().casefold()
    if any(player.name.casefold() == said for player, ids in here.items() if said and not ids):
        return StudentFiles(frozenset(), frozenset({wanted.strip()}))
    with suppress(ValueError):
        uuid = UUID(wanted.strip())
        if _folders_there(shared, {uuid}):
            return StudentFiles(frozenset({uuid}), frozenset())
    known = [*(player.name for player in here if player.name), *sorted(_told_apart(one) for one in there.students)]
    names = tuple(known[:_MOST_NAMED]) or (message("player.nobody_yet"),)
    raise PlayerError("player.nobody_to_erase", given=wanted, names=names)


def _told_apart(person: StudentFiles) -> str:
    """A person as they are named where several are meant."""
    digits = min(uuid.hex for uuid in person.ids)[:FEWEST_DIGITS]
    return f"{', '.join(sorted(person.names))} {digits}".strip()


def _told_with_file(person: StudentFiles, shared: Path | None) -> str:
    """The same with a file of theirs, by which a teacher knows who of two namesakes it is."""
    own = [path.relative_to(shared) for path in person.own if shared is not None and path.is_relative_to(shared)]
    return f"{_told_apart(person)} ({min(own).as_posix()})" if own else _told_apart(person)


def erase_player(found: PlayerFiles, day: date, *, now: datetime | None = None) -> None:
    """Remove a player, and leave a mark that they were erased, so that nothing of them is taken in again. `now` is when
    logs are written anew.

    Raises `LogError` while a game plays into their log or a class is being gathered, and `PlayerError` for a file that
    cannot be removed: then whoever erases them again goes on from there.
    """
    if found.player is None:
        _erase_shared(found, day, now)
        return
    with not_in_use(found.player.log_path):
        _erase_shared(found, day, now)
        for file in found.files:
            if not file.name.endswith(_HELD):
                _remove(file)
    for path in _paths(found.player):
        _remove(path)
    with _told(user_data()):
        _strike_out(found.player)


def _erase_shared(found: PlayerFiles, day: date, now: datetime | None) -> None:
    """The marks come first: whatever happens then, nothing comes back. Their own files are the last: by these they are
    found again where anything before was in use.
    """
    for folder in filter(None, (user_data(), found.shared)):
        if folder.is_dir():
            try:
                mark_erased(folder, found.ids, day)
            except OSError as error:
                raise PlayerError("player.not_marked_erased", folder=folder, reason=reason_of(error)) from error
    for page in found.pages:
        _remove(page)
    if found.school:
        from game.practice_log.school.school_erasure import erase_from_school  # noqa: PLC0415 - not in every program

        erase_from_school(found.school, found.ids, day)
    for log in found.in_logs:
        write_log_without(log, found.ids, now=now or datetime.now(UTC))
    for place in found.classes:
        erase_from_class(place, found.ids)
    for file in found.in_shared:
        for journal in journals_of(file) if file.suffix.lower() == LOG_ENDING else ():
            _remove(journal)
        _remove(file)


def _students_in(shared: Path | None) -> FilesByStudent:
    """Who is in a folder or in a gathered class. What the class of a folder knows of a student beside their files
    counts too, but not that two are one because both played into one log.
    """
    if shared is None:
        return FilesByStudent((), ())
    if shared.is_file():
        return FilesByStudent(tuple(students_in_class(shared)), ())
    found = students_in_folder(shared, class_place(shared))
    gathered = _gathered(_classes_of(shared))
    added = [one for one in gathered if sum(bool(one.ids & student.ids) for student in found.students) <= 1]
    return FilesByStudent(tuple(joined([*found.students, *added])), found.unknown)


def _gathered(places: Iterable[Path]) -> list[StudentFiles]:
    """Who is in these classes; a class that cannot be read is told of when it is to be written."""
    gathered: list[StudentFiles] = []
    for place in places:
        with suppress(LogError):
            gathered += students_in_class(place)
    return gathered


def _students_in_school(school: str) -> FilesByStudent:
    from game.practice_log.school.school_students import school_students  # noqa: PLC0415 - not in every program

    return FilesByStudent(tuple(school_students(school)), ())


def _classes_of(shared: Path | None) -> tuple[Path, ...]:
    """The gathered files of a folder: its own, and any other into which it was gathered."""
    if shared is None:
        return ()
    if shared.is_file():
        return (shared,)
    places = (class_place(shared), *(Path(page.place) for page in written_of(shared)))
    return tuple(dict.fromkeys(place for place in places if place.is_file()))


def _lists_naming(person: StudentFiles, shared: Path | None) -> Iterator[Path]:
    """The lists by which the students of a folder or a class are called that name somebody; one that cannot be read is
    told of at each report.
    """
    paths = [path.relative_to(shared).as_posix() for path in person.own if shared and path.is_relative_to(shared)]
    for names in dict.fromkeys(filter(None, map(kept_list, _classes_of(shared)))):
        with suppress(LogError):
            if read_class_list(names).names_one_of(person.ids, paths, person.names):
                yield names


def _folders_there(shared: Path | None, ids: Iterable[UUID]) -> tuple[Path, ...]:
    """The folders into which their computers write, in a folder or in those below."""
    if shared is None or not shared.is_dir():
        return ()
    found = (path for uuid in sorted(ids) for path in sorted(shared.rglob(str(uuid))))
    return tuple(path for path in found if path == player_folder(path.parents[1], UUID(path.name)) and path.is_dir())


def _outside(files: Iterable[Path], folders: Iterable[Path]) -> Iterator[Path]:
    folders = tuple(folders)
    return (file for file in files if not any(_lies_in(file, folder) for folder in folders))


def _ids(player: Profile) -> frozenset[UUID]:
    kept = read_identity(player.folder / PLAYER_FILE, Identity)
    return ids_in_log(player.log_path) | ({kept.uuid} if kept else frozenset())


def _paths(player: Profile) -> Iterator[Path]:
    """The files and folders that belong to nobody else."""
    inside = tuple(_folders(player) if player.folder != first_player().folder else _of_the_first())
    yield from inside
    # What could not be written beside the log lies elsewhere.
    yield from (file for file in rescue_files(player.log_path) if not any(_lies_in(file, path) for path in inside))


def _folders(player: Profile) -> Iterator[Path]:
    both = dict.fromkeys((player.folder, player.settings_path.parent))
    yield from (folder for folder in both if folder.is_dir())


def _of_the_first() -> Iterator[Path]:
    for folder in dict.fromkeys((user_data(), user_settings().parent)):
        for path in sorted(folder.iterdir()) if folder.is_dir() else ():
            if path.name not in _EVERYBODYS and not is_mark(path):
                yield path


def _lies_in(file: Path, path: Path) -> bool:
    return path == file or path in file.parents


def _remove(path: Path) -> None:
    with _told(path):
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        else:
            path.unlink(missing_ok=True)


def _strike_out(player: Profile) -> None:
    """Take a player off the table, the last of all: by their name they are found again until then."""
    table = read_players().without_faults()
    rows = tuple(row for row in table.players if row.folder != player.folder.name)
    if len(rows) < len(table.players):
        last = FIRST_ID if table.last == player.folder.name else table.last
        write_players(msgspec.structs.replace(table, players=rows, last=last))


@contextmanager
def _told(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        reason = reason_of(error)
        raise PlayerError("player.cannot_be_erased", file=error.filename or path, reason=reason) from error
