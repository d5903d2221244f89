"""A class to be asked, wherever it comes from: a folder of exports, which is gathered first, a file gathered before, or
a school's database.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from game.clock import wall_time
from game.commands.reading_progress import tell_progress
from game.commands.school_source import (
    asked_school,
    brought_into_school,
    erased_by_mark,
    school_keeps,
    seen_password,
)
from game.errors import LogError
from game.message import Message, message
from game.paths import user_data
from game.player.class_place import class_place
from game.player.kept_of_class import MOST_MONTHS, keep_list, keep_months, kept_list, kept_months
from game.player.parts_in_log import parts_in_log
from game.player.set_for_class import put_set_for_class
from game.player.written_pages import remember_page
from game.practice_log.classes.class_file import open_class, read_class
from game.practice_log.classes.class_list import ClassList, name_students, read_class_list
from game.practice_log.classes.class_queries import AskedClass
from game.practice_log.classes.forgotten_by_age import FEWEST_MONTHS, day_before, forget_older, read_all_again
from game.practice_log.classes.gather_class import GONE, GatheredClass, gather_class
from game.practice_log.classes.helper_processes import HelperProcesses
from game.practice_log.foreign.plain_files import is_packed
from game.practice_log.school.into_school import BroughtIntoSchool
from game.practice_log.school.school_address import is_school
from game.practice_log.transfer.erased import is_erased

_KEPT_SINCE = "gather.kept_since"
_ON_PURPOSE = frozenset({_KEPT_SINCE, "gather.nothing_newer", "gather.erased"})


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedClass:
    """A class that can be asked, and the `file` it is asked from, where it is one; what was gathered just now, None for
    one that was gathered before; and what is to be said, of files and of lines of a list.
    """

    asked: AskedClass
    file: Path | None
    gathered: GatheredClass | None
    faults: tuple[Message, ...]


@contextmanager
def opened_class(
    source: str, *, into: str = "", names: Path | None = None, helpers: HelperProcesses | None = None
) -> Iterator[OpenedClass]:
    """The class in a folder, gathered into the file `into` or the one that is this folder's own; the class in a file;
    or the students whom a school's database shows to whoever asks. Students are called as the list `names` says, or
    else the one that was given last; where there is much to read, `helpers` do it. Raises `LogError` where there is
    none, or it cannot be read.
    """
    listed = read_class_list(names) if names else None
    if is_school(source):
        if listed is not None:
            raise LogError("school.list_where_gathered")
        with asked_school(source) as asked:
            yield OpenedClass(asked=asked, file=None, gathered=None, faults=seen_password(source))
        return
    if Path(source).is_file():
        if is_packed(Path(source)):
            raise LogError("report.folder_wanted", file=source)
        with _gathered_before(Path(source), names, listed) as opened:
            yield opened
        return
    place, gathered = gathered_folder(Path(source), Path(into) if into else None, helpers)
    if not gathered.students and all(fault.key == GONE for fault in gathered.faults):
        # A drive that was pulled out leaves an empty folder: last week's page stays.
        raise LogError("report.no_export_there", folder=source)
    said = [*gathered.faults, *_named(place, names, listed, Path(source))]
    with read_class(place) as asked:
        yield OpenedClass(asked=asked, file=place, gathered=gathered, faults=tuple(said))


def gathered_folder(
    folder: Path, into: Path | None, helpers: HelperProcesses | None = None
) -> tuple[Path, GatheredClass]:
    """Gather a folder; where it was gathered, and what came. Raises `LogError`."""
    if not folder.is_dir():
        raise LogError("report.no_such_folder", folder=folder)
    place = into or class_place(folder)
    if into is not None:
        # Who is erased from the folder later is to go from there too.
        remember_page(folder, into)
    gathered = gather_class(
        folder, place, marks=[user_data()], parts_of=parts_in_log, tell=tell_progress, helpers=helpers
    )
    if (months := kept_months(place)) is not None and gathered.students:
        _forget(place, months, gathered)
    if gathered.students:
        gathered.faults += put_set_for_class(folder, place, wall_time().date())
    return place, gathered


def gathered_into_school(
    folder: Path, address: str, class_name: str, *, names: Path | None = None, months: int | None = None
) -> tuple[GatheredClass, BroughtIntoSchool, tuple[Message, ...]]:
    """Gather a folder into its own file, and bring that into a school's database as a class of this name; what was
    gathered, what came, and what is to be said. The whole school keeps what it holds so many `months` from now on, 0
    for ever, where that is said; the folder's own file as long as the school. Raises `LogError`.
    """
    listed = read_class_list(names) if names else None
    _refuse_months(months)
    if not folder.is_dir():
        raise LogError("report.no_such_folder", folder=folder)
    _keep_as_long(folder, school_keeps(address, months))
    place, gathered = gathered_folder(folder, None)
    if not gathered.students and not _left_out_on_purpose(gathered):
        # A drive that is not there tonight must not empty the class, nor files that are nobody's to read.
        erased_by_mark(folder, place, address)
        if unread := _said_of_files(gathered):
            raise LogError("school.nothing_read", folder=folder, faults=tuple(unread))
        raise LogError("report.no_export_there", folder=folder)
    said = (*seen_password(address), *gathered.faults, *_named(place, names, listed, folder))
    came = brought_into_school(folder, place, address, class_name, wall_time().date())
    return gathered, came, (*said, *came.faults)


def _left_out_on_purpose(gathered: GatheredClass) -> bool:
    """Whether files lie there, each of somebody who was erased or did nothing for too long."""
    said = _said_of_files(gathered)
    return bool(said) and all(fault.key in _ON_PURPOSE for fault in said)


def _said_of_files(gathered: GatheredClass) -> list[Message]:
    """What is said of files that lie there."""
    return [fault for fault in gathered.faults if fault.key != GONE]


def keep_from_now_on(folder: Path, into: Path | None, months: int) -> None:
    """Keep what is in the class of a folder for so many months from now on, 0 for ever; longer than before means that
    all of it is read again. Raises `LogError` for fewer months than a class is asked about.
    """
    _refuse_months(months)
    if not folder.is_dir():
        raise LogError("report.no_such_folder", folder=folder)
    place = into or class_place(folder)
    before = kept_months(place)
    if before is not None and (not months or months > before) and place.is_file():
        read_all_again(place)
    keep_months(place, months or None)


def _refuse_months(months: int | None) -> None:
    if months and not FEWEST_MONTHS <= months <= MOST_MONTHS:
        raise LogError("gather.too_few_months", given=months, fewest=FEWEST_MONTHS, most=MOST_MONTHS)


def _keep_as_long(folder: Path, months: int | None) -> None:
    if kept_months(class_place(folder)) != months:
        keep_from_now_on(folder, None, months or 0)


def _forget(place: Path, months: int, gathered: GatheredClass) -> None:
    since = day_before(wall_time().date(), months)
    went = forget_older(place, since)
    gathered.students -= went.students
    gathered.faults.append(message(_KEPT_SINCE, since=since))
    if went.files:
        gathered.faults.append(message("gather.nothing_newer", since=since, files=went.files))


@contextmanager
def _gathered_before(path: Path, names: Path | None, listed: ClassList | None) -> Iterator[OpenedClass]:
    with read_class(path):
        # Only one that can be read as it stands is opened for writing: another would be made anew, and empty.
        pass
    said = _named(path, names, listed)
    with read_class(path) as asked:
        yield OpenedClass(asked=asked, file=path, gathered=None, faults=tuple(said))


def _named(
    place: Path, names: Path | None, listed: ClassList | None, folder: Path | None = None
) -> tuple[Message, ...]:
    """Call students as the list `names` says, which was read just now, and is the list of this class from now on; one
    that names nobody ends that. Where none is given, the one of before is read again, for it may say something else
    now, and somebody who was away may be there again.
    """
    if names is None or listed is None:
        return _named_again(place, folder)
    keep_list(place, names if listed.by_id or listed.by_file else None)
    return _name(place, listed, folder)


def _named_again(place: Path, folder: Path | None) -> tuple[Message, ...]:
    if (path := kept_list(place)) is None:
        return ()
    try:
        return _name(place, read_class_list(path), folder)
    except LogError as fault:
        # A stick may be away, and a class lie where nobody may write: pages are made with the names that are known.
        return (message("class.list_of_before", fault=fault.message),)


def _name(place: Path, listed: ClassList, folder: Path | None) -> tuple[Message, ...]:
    marks = [place for place in (user_data(), folder) if place is not None]
    with open_class(place) as connection:
        missing = name_students(connection, listed, lambda uuid: any(is_erased(mark, uuid) for mark in marks))
    return (*listed.faults, *missing)
