"""`homefret assign`: what a teacher sets, from words to a short file that a student drops on the window."""

import argparse
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from game.assignments.assignment import AssignedLines, AssignedTune, Assignment, AssignmentError
from game.assignments.assignment_reader import ENDING, assignment_from, read_assignment
from game.assignments.assignment_writer import assignment_text
from game.assignments.due_calendar import DueEvent, due_calendar, event_in
from game.assignments.from_words import AssignmentInWords, PartInWords, assignment_from_words
from game.clock import wall_time
from game.commands.answers import assign_answer as answers
from game.commands.assigned_parts import add_part_words
from game.commands.assignment_faults import (
    checked_assignment,
    faults_of_day,
    faults_of_tunes,
    is_title_on_shelf,
    twins_of_tunes,
)
from game.commands.path_option import path_given
from game.commands.printing import add_json_flag, print_json
from game.errors import reason_of
from game.message import Message, message
from game.music.score import Reading
from game.neck.neck_map import NeckMap
from game.paths import write_whole_file
from game.player.assigned_music import lies_beside
from game.player.assignment_facts import is_newer_form
from game.text.catalogue import in_english, say, tell

CALENDAR_ENDING = ".ics"
_MOST_CALENDAR = 100_000
_MAP_WORDS = ("position", "tuning", "frets", "read")


def add_parser(subparsers: Any) -> None:
    """Add `assign` and its words to the program's commands."""
    parser = subparsers.add_parser(
        "assign", help=say("command.assign.summary"), description=say("command.assign.description")
    )
    parser.set_defaults(run=run)
    parser.add_argument("--title", default="", metavar=say("metavar.title"), help=say("command.assign.title"))
    add_part_words(parser)
    parser.add_argument("--due", default="", metavar=say("metavar.day"), help=say("command.assign.due"))
    parser.add_argument("--note", default="", metavar=say("metavar.note"), help=say("command.assign.note"))
    parser.add_argument("--position", metavar="P", help=say("command.assign.position"))
    parser.add_argument("--tuning", metavar="T", help=say("command.option.tuning"))
    parser.add_argument("--frets", metavar="N", help=say("command.assign.frets"))
    readings = "|".join(reading.value for reading in Reading)
    parser.add_argument("--read", metavar=readings, help=say("command.assign.read"))
    parser.add_argument(
        "--out", type=path_given, metavar=say("metavar.file_of_kind", ending=ENDING), help=say("command.assign.out")
    )
    add_json_flag(parser)
    parser.add_argument(
        "--check", type=path_given, metavar=say("metavar.file_of_kind", ending=ENDING), help=say("command.assign.check")
    )
    parser.add_argument(
        "--calendar",
        type=path_given,
        metavar=say("metavar.file_of_kind", ending=CALENDAR_ENDING),
        help=say("command.assign.calendar"),
    )


def run(args: argparse.Namespace) -> int:
    """Make the assignment and say where it is, or check one. Raises `HomefretError` with all that the teacher can
    mend.
    """
    if args.check is not None:
        assignment = _checked(args)
        if args.calendar is not None:
            _write_calendar(args.calendar, assignment)
        warnings = twins_of_tunes(assignment.tunes)
        if args.json:
            print_json(assign_answer(assignment, args.check, warnings))
        else:
            _tell_made(say("command.assign.checked", file=args.check), args.calendar, warnings)
        return 0
    assignment = assignment_meant(args)
    text = assignment_text(assignment)
    if assignment_from(text) != assignment:
        raise AssignmentError("command.assign.not_read_alike")
    if args.out is not None:
        _write(args.out, text)
    if args.calendar is not None:
        _write_calendar(args.calendar, assignment)
    warnings = twins_of_tunes(assignment.tunes)
    if args.out is not None:
        warnings += _missing_files(assignment.tunes, args.out.parent)
    if args.json:
        print_json(assign_answer(assignment, args.out, warnings))
    elif args.out is None:
        sys.stdout.write(text)
    else:
        _tell_made(say("command.assign.written", out=args.out), args.calendar, warnings)
    return 0


def assign_answer(assignment: Assignment, out: Path | None, warnings: Sequence[Message]) -> answers.AssignAnswer:
    """An assignment as the command answers it."""
    return answers.AssignAnswer(
        file=str(out) if out else None,
        title=assignment.title,
        note=assignment.note,
        due=assignment.due.isoformat() if assignment.due else None,
        map=_map(assignment.neck_map) if assignment.neck_map else None,
        tunes=[_tune(tune) for tune in assignment.tunes],
        lines=[_lines(line) for line in assignment.lines],
        warnings=[in_english(warning) for warning in warnings],
    )


def _map(neck_map: NeckMap) -> answers.MapOfAnAssignment:
    return answers.MapOfAnAssignment(
        position=neck_map.position, tuning=neck_map.tuning.name, frets=neck_map.frets, read=neck_map.reading
    )


def _tune(tune: AssignedTune) -> answers.TuneOfAnAssignment:
    return answers.TuneOfAnAssignment(
        title=tune.title,
        file=tune.file_name,
        bars=list(tune.bars) if tune.bars else None,
        stages=list(tune.stages),
        tempo=tune.target_bpm,
    )


def _lines(line: AssignedLines) -> answers.LinesOfAnAssignment:
    return answers.LinesOfAnAssignment(
        level=line.level, a_day=line.a_day, stages=list(line.stages), tempo=line.target_bpm
    )


def assignment_meant(args: argparse.Namespace) -> Assignment:
    """The assignment that the words of this command mean, held against the shelf. Raises `AssignmentError` with all
    faults at once: those of the file's name, too.
    """
    faults = _faults_of_name(args.out) if args.out else []
    said = AssignmentInWords(
        title=args.title,
        note=args.note,
        due=args.due,
        neck_map={word: getattr(args, word) for word in _MAP_WORDS},
        parts=args.parts or (),
        everywhere=args.everywhere or PartInWords("", ""),
    )
    try:
        assignment = assignment_from_words(said, is_title_on_shelf)
        faults += faults_of_tunes(assignment.tunes)
        faults += faults_of_day(assignment.due, wall_time().date())
    except AssignmentError as error:
        faults.append(error.message)
    if faults:
        raise AssignmentError("faults", faults=faults)
    _check_calendar(args.calendar, assignment)
    return assignment


def _tell_made(words: str, calendar: Path | None, warnings: Sequence[Message]) -> None:
    print(words)
    if calendar is not None:
        print(say("command.assign.calendar_written", out=calendar))
    for warning in warnings:
        print(tell(warning))


def _missing_files(tunes: Sequence[AssignedTune], folder: Path) -> list[Message]:
    """A word for each file that the student will look for beside the assignment."""
    return [
        message("command.assign.file_not_beside_it", name=tune.file_name)
        for tune in tunes
        if tune.file_name and not lies_beside(tune, folder)
    ]


def _checked(args: argparse.Namespace) -> Assignment:
    """The file to be checked, with which nothing is wrong; words that make another have no place beside it."""
    words = (args.title, args.parts, args.due, args.note, args.out, *(getattr(args, word) for word in _MAP_WORDS))
    if any(words):
        raise AssignmentError("command.assign.check_alone")
    assignment = checked_assignment(args.check, wall_time().date())
    _check_calendar(args.calendar, assignment)
    return assignment


def _check_calendar(calendar: Path | None, assignment: Assignment) -> None:
    if calendar is not None and calendar.suffix.lower() != CALENDAR_ENDING:
        raise AssignmentError("command.assign.calendar_ending", out=calendar, ending=CALENDAR_ENDING)
    if calendar is not None and assignment.due is None:
        raise AssignmentError("command.assign.calendar_without_day")
    if calendar is not None:
        _event_there(calendar)


def _write_calendar(out: Path, assignment: Assignment) -> None:
    """The due day for a calendar. Where one of the same assignment is there, it is that event, changed."""
    words = say("command.assign.in_calendar", title=assignment.title)
    said = "\n".join(filter(None, (words, assignment.note)))
    now = wall_time()
    raw = due_calendar(assignment, said, made=now, former=_former(out, assignment, now.date()))
    try:
        write_whole_file(out, raw)
    except OSError as error:
        raise AssignmentError("command.assign.not_written", out=out, strerror=reason_of(error)) from error


def _former(out: Path, assignment: Assignment, today: date) -> DueEvent | None:
    """The event in the file that is replaced, where it is of the same assignment."""
    event = _event_there(out)
    due = assignment.due.isoformat() if assignment.due else ""
    if event is None or not event.is_titled(assignment.title):
        return None
    is_same = is_newer_form(was_due=event.due.isoformat(), due=due, day=today.toordinal())
    return event if is_same else None


def _event_there(out: Path) -> DueEvent | None:
    """The event in a calendar of ours; None where there is no file. Raises `AssignmentError` for another calendar: it
    may be somebody's whole year.
    """
    try:
        if not out.is_file():
            return None
        with out.open("rb") as file:
            raw = file.read(_MOST_CALENDAR)
    except OSError as error:
        raise AssignmentError("command.assign.not_written", out=out, strerror=reason_of(error)) from error
    event = event_in(raw)
    if event is None and raw:
        raise AssignmentError("command.assign.other_calendar", out=out)
    return event


def _faults_of_name(out: Path) -> list[Message]:
    """Whoever mistypes a name must lose nothing by it: only an older assignment is replaced."""
    if out.suffix.lower() != ENDING:
        return [message("command.assign.other_ending", out=out, ending=ENDING)]
    if out.exists():
        try:
            read_assignment(out)
        except AssignmentError:
            return [message("command.assign.file_is_no_assignment", out=out)]
    return []


def _write(out: Path, text: str) -> None:
    try:
        write_whole_file(out, text.encode())
    except OSError as error:
        raise AssignmentError("command.assign.not_written", out=out, strerror=reason_of(error)) from error
