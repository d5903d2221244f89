"""`homefret assign`: what a teacher sets, from words to a short file that a student drops on the window."""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from game.assignments.assignment import AssignedTune, Assignment, AssignmentError
from game.assignments.assignment_reader import ENDING, assignment_from, read_assignment
from game.assignments.assignment_writer import assignment_text
from game.assignments.from_words import AssignmentInWords, PartInWords, assignment_from_words
from game.commands.answers import add_json_flag, print_json
from game.message import verbatim
from game.music.score import Reading
from game.music.written import written_out
from game.text.catalogue import tell
from game.tunes.library.library import ShelfEntry, open_entry, shelf

_MAP_WORDS = ("position", "tuning", "frets", "read")


def add_parser(subparsers: Any) -> None:
    """Add `assign` and its words to the program's commands."""
    parser = subparsers.add_parser(
        "assign",
        help="set map, music, stages and tempi: a file for a student to drop on the window",
        description="--stage and --tempo belong to the --tune or --lines before them; before the first, to all.",
    )
    parser.set_defaults(parts=None, everywhere=None, run=run)
    parser.add_argument("--title", default="", help="what it is called")
    parser.add_argument(
        "--tune", action=_Part, kind="tune", metavar="TITLE[:FIRST-LAST]", help="a tune on the shelf, or a music file"
    )
    parser.add_argument(
        "--lines", action=_Part, kind="line", metavar="LEVEL[:A-DAY]", help="fresh lines, level 1 to 8, so many a day"
    )
    parser.add_argument("--stage", action=_OfPart, metavar="S[,S]", help="letters, places, rhythm, time, sight")
    parser.add_argument("--tempo", action=_OfPart, metavar="BPM", help="the target, in the metre's own beat")
    parser.add_argument("--due", default="", metavar="DAY", help="until when, such as 2026-12-24")
    parser.add_argument("--note", default="", help="a word to the student")
    parser.add_argument("--position", metavar="P", help="the map: first finger at fret P (the student's own)")
    parser.add_argument("--tuning", metavar="T", help="a tuning by name, or six MIDI numbers from string 6")
    parser.add_argument("--frets", metavar="N", help="frets on the neck")
    parser.add_argument("--read", metavar="|".join(reading.value for reading in Reading), help="octave of the page")
    parser.add_argument("--out", type=Path, metavar="FILE.toml", help="where it goes (shown when left out)")
    add_json_flag(parser)


def run(args: argparse.Namespace) -> int:
    """Make the assignment and say where it is; raises `HomefretError` with all that the teacher can mend."""
    assignment = _meant(args)
    text = assignment_text(assignment)
    if assignment_from(text) != assignment:
        raise AssignmentError("command.what_set_written_so")
    if args.out is not None:
        _write(args.out, text)
    warnings = _missing_files(assignment.tunes, args.out.parent) if args.out else []
    if args.json:
        print_json(assign_answer(assignment, args.out) | {"warnings": warnings})
    elif args.out is None:
        sys.stdout.write(text)
    else:
        print(f"Assignment written to {args.out}: your student drops it on the window.")
        print("".join(f"{warning}\n" for warning in warnings), end="")
    return 0


def assign_answer(assignment: Assignment, out: Path | None) -> dict[str, Any]:
    """An assignment as the command answers it: see content/schemas/assign.schema.json."""
    neck_map = assignment.neck_map
    return {
        "file": str(out) if out else None,
        "title": assignment.title,
        "note": assignment.note,
        "due": assignment.due.isoformat() if assignment.due else None,
        "map": neck_map
        and {
            "position": neck_map.position,
            "tuning": neck_map.tuning.name,
            "frets": neck_map.frets,
            "read": neck_map.reading.value,
        },
        "tunes": [
            {
                "title": tune.title,
                "file": tune.file_name,
                "bars": list(tune.bars) if tune.bars else None,
                **_asked(tune),
            }
            for tune in assignment.tunes
        ],
        "lines": [{"level": line.level, "a_day": line.a_day, **_asked(line)} for line in assignment.lines],
    }


def _asked(part: Any) -> dict[str, Any]:
    return {"stages": [stage.value for stage in part.stages], "tempo": part.target_bpm}


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
        faults.append(tell(error.message))
    if faults:
        raise AssignmentError(verbatim("; ".join(faults)))
    return assignment


def _faults_of_tunes(tunes: Sequence[AssignedTune]) -> list[str]:
    """What the shelf says to tunes that are named by their title."""
    on_shelf: dict[str, ShelfEntry] = {}
    for entry in shelf() if any(tune.title for tune in tunes) else ():
        on_shelf.setdefault(entry.title.casefold(), entry)
    faults = []
    for number, tune in enumerate(tunes, start=1):
        found = on_shelf.get(tune.title.casefold())
        if tune.title and found is None:
            said = f"no tune on the shelf is called {tune.title!r}: add it with homefret add, or name its file"
            faults.append(f"tune {number}: {said}")
        elif found is not None and tune.bars is not None and not _has_bars(found, tune.bars):
            faults.append(f"tune {number}: {found.title} has no bars {tune.bars[0]} to {tune.bars[1]} with notes")
    return faults


def _missing_files(tunes: Sequence[AssignedTune], folder: Path) -> list[str]:
    """A word for each file that the student will look for beside the assignment."""
    return [
        f"{tune.file_name} does not lie beside it yet: put it there, and hand both over."
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


def _faults_of_name(out: Path) -> list[str]:
    """Whoever mistypes a name must lose nothing by it: only an older assignment is replaced."""
    if out.suffix.lower() != ENDING:
        return [f"an assignment is a text in TOML: give {out} a name ending in {ENDING}"]
    if out.exists():
        try:
            read_assignment(out)
        except AssignmentError:
            return [f"{out} is there already and is no assignment: name a new file"]
    return []


def _write(out: Path, text: str) -> None:
    try:
        out.write_text(text, encoding="utf-8")
    except OSError as error:
        raise AssignmentError(
            "command.assignment_written_name_another", out=out, strerror=error.strerror or error
        ) from error


class _Part(argparse.Action):
    """`--tune` and `--lines` begin a part of the assignment."""

    def __init__(self, *args: Any, kind: str, **more: Any) -> None:
        super().__init__(*args, **more)
        self._kind = kind

    def __call__(self, parser: Any, namespace: argparse.Namespace, values: Any, option_string: Any = None) -> None:
        del parser, option_string
        namespace.parts = [*(namespace.parts or ()), PartInWords(self._kind, values)]


class _OfPart(argparse.Action):
    """`--stage` and `--tempo` belong to the part before them, before the first part to all."""

    def __call__(self, parser: Any, namespace: argparse.Namespace, values: Any, option_string: Any = None) -> None:
        del parser
        if not namespace.parts:
            namespace.everywhere = namespace.everywhere or PartInWords("", "")
        part = namespace.parts[-1] if namespace.parts else namespace.everywhere
        if option_string == "--tempo":
            part.tempo = values
        else:
            part.stages = [*part.stages, *(word.strip() for word in values.split(","))]
