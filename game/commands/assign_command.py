"""`homefret assign`: what a teacher sets, from words to a short file that a student drops on the window."""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from game.assignments.assignment import AssignedLines, AssignedTune, Assignment, AssignmentError
from game.assignments.assignment_reader import ENDING, assignment_from, read_assignment
from game.assignments.assignment_writer import assignment_text
from game.assignments.from_words import AssignmentInWords, PartInWords, assignment_from_words
from game.commands.answers import assign_answer as answers
from game.commands.assigned_parts import add_part_words
from game.commands.printing import add_json_flag, print_json
from game.message import Message, message
from game.music.score import Reading
from game.music.written import written_out
from game.neck.neck_map import NeckMap
from game.text.catalogue import in_english, say, tell
from game.tunes.library.library import ShelfEntry, open_entry, shelf

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
        "--out", type=Path, metavar=say("metavar.file_of_kind", ending=ENDING), help=say("command.assign.out")
    )
    add_json_flag(parser)


def run(args: argparse.Namespace) -> int:
    """Make the assignment and say where it is; raises `HomefretError` with all that the teacher can mend."""
    assignment = _meant(args)
    text = assignment_text(assignment)
    if assignment_from(text) != assignment:
        raise AssignmentError("command.assign.not_read_alike")
    if args.out is not None:
        _write(args.out, text)
    warnings = _missing_files(assignment.tunes, args.out.parent) if args.out else []
    if args.json:
        print_json(assign_answer(assignment, args.out, warnings))
    elif args.out is None:
        sys.stdout.write(text)
    else:
        print(say("command.assign.written", out=args.out))
        print("".join(f"{tell(warning)}\n" for warning in warnings), end="")
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


def _meant(args: argparse.Namespace) -> Assignment:
    """The assignment, held against the shelf. All faults are told at once: those of the file's name, too."""
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
        assignment = assignment_from_words(said)
        faults += _faults_of_tunes(assignment.tunes)
    except AssignmentError as error:
        faults.append(error.message)
    if faults:
        raise AssignmentError("faults", faults=faults)
    return assignment


def _faults_of_tunes(tunes: Sequence[AssignedTune]) -> list[Message]:
    """What the shelf says to tunes that are named by their title."""
    on_shelf: dict[str, ShelfEntry] = {}
    for entry in shelf() if any(tune.title for tune in tunes) else ():
        on_shelf.setdefault(entry.title.casefold(), entry)
    faults = []
    for number, tune in enumerate(tunes, start=1):
        found = on_shelf.get(tune.title.casefold())
        if tune.title and found is None:
            faults.append(message("command.assign.no_such_tune", number=number, title=tune.title))
        elif found is not None and tune.bars is not None and not _has_bars(found, tune.bars):
            first, last = tune.bars
            faults.append(
                message("command.assign.no_such_bars", number=number, title=found.title, first=first, last=last)
            )
    return faults


def _missing_files(tunes: Sequence[AssignedTune], folder: Path) -> list[Message]:
    """A word for each file that the student will look for beside the assignment."""
    return [
        message("command.assign.file_not_beside_it", name=tune.file_name)
        for tune in tunes
        if tune.file_name and not (folder / tune.file_name).is_file()
    ]


def _has_bars(entry: ShelfEntry, bars: tuple[int, int]) -> bool:
    """Whether the bars are there in order of play, and hold a note."""
    played = written_out(open_entry(entry)).bars
    numbers = [bar.number for bar in played]
    first, last = (str(number) for number in bars)
    if first not in numbers or last not in numbers[numbers.index(first) :]:
        return False
    start = numbers.index(first)
    return any(bar.notes for bar in played[start : numbers.index(last, start) + 1])


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
        out.write_text(text, encoding="utf-8")
    except OSError as error:
        raise AssignmentError("command.assign.not_written", out=out, strerror=error.strerror or error) from error
