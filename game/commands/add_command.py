"""`homefret add`: tune files into the library, one or many, folders and books of tunes too."""

import argparse
import sys
from pathlib import Path
from typing import Any

from game.commands.answers import add_json_flag, print_json
from game.commands.map_options import add_map_words, add_read_word, map_from, reading_from
from game.errors import TuneError
from game.message import verbatim
from game.music.score import Reading
from game.neck.neck_map import NeckMap
from game.tunes.library.adding import Added, Adder, files_in
from game.tunes.library.library import ShelfEntry
from game.tunes.library.tune_readiness import TuneReadiness, reading_of


def add_parser(subparsers: Any) -> None:
    """Add `add` and its words to the program's commands."""
    parser = subparsers.add_parser("add", help="tune files into your library: what to read next first")
    parser.add_argument(
        "files", nargs="+", type=Path, metavar="FILE", help="MusicXML (.musicxml, .xml, .mxl), ABC, MIDI, or a folder"
    )
    parser.add_argument("--part", type=int, metavar="N", help="part of a score, or tune of a book, from 1")
    add_read_word(parser)
    add_map_words(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Add the files and say what became of each; raises `HomefretError` when nothing at all could be added."""
    read = reading_from(args)
    files = files_in(args.files)
    if not files:
        raise TuneError("command.holds_tune_files_name", name=args.files[0].name)
    added: list[Added] = []
    with Adder(read=read, asks=len(files) == 1) as adder:
        for number, path in enumerate(files, start=1):
            if len(files) > 1 and sys.stderr.isatty():
                print(f"\rReading {number} of {len(files)} … ", end="", file=sys.stderr, flush=True)
            added += adder.added(path, args.part)
    if len(files) > 1 and sys.stderr.isatty():
        print("\r", end="", file=sys.stderr)
    faults = [one.fault for one in added if one.entry is None]
    if len(faults) == len(added):
        raise TuneError(
            verbatim(faults[0] if len(faults) == 1 else f"none of {len(faults)} files could be read: {faults[0]}")
        )
    neck_map = map_from(args, read or Reading.GUITAR)
    if args.json:
        print_json(add_answer(added, neck_map))
    else:
        _print_for_people(added, neck_map)
    return 0


def add_answer(added: list[Added], neck_map: NeckMap) -> dict[str, Any]:
    """What was added, in the order to read it, and what was not; see content/schemas/add.schema.json."""
    return {
        "added": [
            _entry_answer(one.entry, neck_map, one.note) for one in _in_order(added, neck_map) if one.entry is not None
        ],
        "refused": [{"file": one.path.name, "why": one.fault} for one in added if one.entry is None],
    }


def _in_order(added: list[Added], neck_map: NeckMap) -> list[Added]:
    entered = {one.entry.name: one for one in added if one.entry is not None}
    return sorted(entered.values(), key=lambda one: _readiness(one.entry, neck_map).difficulty if one.entry else 0.0)


def _readiness(entry: ShelfEntry, neck_map: NeckMap) -> TuneReadiness:
    return reading_of(entry, neck_map)


def _entry_answer(entry: ShelfEntry, neck_map: NeckMap, note: str) -> dict[str, Any]:
    readiness = _readiness(entry, neck_map)
    return {
        "name": entry.name,
        "file": entry.file_name,
        "title": entry.title,
        "composer": entry.composer,
        "part": entry.part,
        "key": entry.key,
        "meter": entry.meter,
        "bars": entry.bars,
        "notes": entry.notes,
        "lowest": entry.lowest,
        "highest": entry.highest,
        "difficulty": round(readiness.difficulty, 2),
        "off_map": readiness.off_map,
        "note": note,
    }


def _print_for_people(added: list[Added], neck_map: NeckMap) -> None:
    ordered = _in_order(added, neck_map)
    print(f"{len(ordered)} on the shelf, what to read next first:" if len(ordered) > 1 else "On the shelf:")
    for one in ordered:
        if one.entry is not None:
            entry, readiness = one.entry, _readiness(one.entry, neck_map)
            off = f", {readiness.off_map} notes off the map" if readiness.off_map else ""
            print(f"  {entry.title}: {entry.key}, {entry.bars} bars, difficulty {readiness.difficulty:.1f}{off}")
        if one.note:
            print(f"    {one.note}")
    for one in added:
        if one.entry is None:
            print(f"Not added: {one.fault}")
