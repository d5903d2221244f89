"""`homefret add`: tune files into the library, one or many, folders and books of tunes too."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from game.commands.answers.add_answer import AddAnswer, AddedTune, RefusedFile
from game.commands.map_options import add_map_words, add_read_word, map_from, reading_from
from game.commands.number_option import whole_number
from game.commands.path_option import path_given
from game.commands.printing import add_json_flag, print_json
from game.commands.reading_progress import tell_progress
from game.errors import TuneError
from game.music.order_choices import choices_told, order_told
from game.music.score import Bar, Reading
from game.neck.neck_map import NeckMap
from game.text.catalogue import in_english, say, tell
from game.text.clean_text import cleaned_name
from game.tunes.library.adding import Adder, files_in
from game.tunes.library.import_results import Added, NotAdded
from game.tunes.library.library import open_entry
from game.tunes.library.shelf_entry import ShelfEntry
from game.tunes.library.tune_readiness import TuneReadiness, tune_readiness


def add_parser(subparsers: Any) -> None:
    """Add `add` and its words to the program's commands."""
    parser = subparsers.add_parser("add", help=say("command.add.summary"))
    parser.add_argument("files", nargs="+", type=path_given, metavar=say("metavar.file"), help=say("command.add.files"))
    parser.add_argument("--part", type=whole_number, metavar="N", help=say("command.add.part"))
    add_read_word(parser)
    add_map_words(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Add the files and say what became of each; raises `HomefretError` when nothing at all could be added."""
    read = reading_from(args)
    found = files_in(args.files)
    if not (found.files or found.faults):
        raise TuneError("command.add.no_tune_files", name=cleaned_name(args.files[0]))
    added = [*_added(found.files, read, args.part), *found.faults]
    faults = [one.fault for one in added if isinstance(one, NotAdded)]
    if len(faults) == len(added):
        if len(faults) == 1:
            raise TuneError(faults[0])
        raise TuneError("command.add.none_could_be_read", count=len(faults), fault=faults[0])
    neck_map = map_from(args, read or Reading.GUITAR)
    if args.json:
        print_json(add_answer(added, neck_map))
    else:
        _print_for_people(added, neck_map)
    return 0


def _added(files: Sequence[Path], read: Reading | None, part: int | None) -> list[Added | NotAdded]:
    """What became of each file; how far it is, is told to a person who waits."""
    added: list[Added | NotAdded] = []
    with Adder(read=read, asks=len(files) == 1) as adder:
        for number, path in enumerate(files, start=1):
            tell_progress(number, len(files))
            added += adder.added(path, part)
    tell_progress(len(files) + 1, len(files))
    return added


def add_answer(added: list[Added | NotAdded], neck_map: NeckMap) -> AddAnswer:
    """What was added, in the order to read it, and what was not."""
    return AddAnswer(
        added=[_entry_answer(one, neck_map) for one in _in_order(added, neck_map)],
        refused=[
            RefusedFile(file=cleaned_name(one.path), why=in_english(one.fault))
            for one in added
            if isinstance(one, NotAdded)
        ],
    )


def _in_order(added: list[Added | NotAdded], neck_map: NeckMap) -> list[Added]:
    entered = {one.entry.name: one for one in added if isinstance(one, Added)}
    return sorted(entered.values(), key=lambda one: _readiness(one.entry, neck_map).difficulty)


def _readiness(entry: ShelfEntry, neck_map: NeckMap) -> TuneReadiness:
    return tune_readiness(entry, neck_map)


def _entry_answer(one: Added, neck_map: NeckMap) -> AddedTune:
    entry, readiness = one.entry, _readiness(one.entry, neck_map)
    bars = _bars_of(entry)
    return AddedTune(
        name=entry.name,
        file=entry.file_name,
        title=entry.title,
        composer=entry.composer,
        part=entry.part,
        key=entry.key,
        meter=entry.meter,
        bars=entry.bars,
        notes=entry.notes,
        lowest=entry.lowest,
        highest=entry.highest,
        difficulty=round(readiness.difficulty, 2),
        off_map=readiness.off_map,
        order=order_told(bars),
        assumed=[in_english(said) for said in choices_told(bars)],
        note=in_english(one.note) if one.note else "",
    )


def _bars_of(entry: ShelfEntry) -> tuple[Bar, ...]:
    """The bars of the tune; none where it was on the shelf already and its file is damaged."""
    try:
        return open_entry(entry).bars
    except TuneError:
        return ()


def _print_for_people(added: list[Added | NotAdded], neck_map: NeckMap) -> None:
    ordered = _in_order(added, neck_map)
    print(say("command.add.on_the_shelf", count=len(ordered)))
    for one in ordered:
        print(f"  {_told(one.entry, neck_map)}")
        if one.note:
            print(f"    {tell(one.note)}")
        for said in choices_told(_bars_of(one.entry)):
            print(f"    {tell(said)}")
    for left_out in added:
        if isinstance(left_out, NotAdded):
            print(say("command.add.not_added", fault=left_out.fault))


def _told(entry: ShelfEntry, neck_map: NeckMap) -> str:
    """A tune of the shelf in a line."""
    readiness = _readiness(entry, neck_map)
    facts = {"title": entry.title, "key": entry.key, "bars": entry.bars, "difficulty": readiness.difficulty}
    if not readiness.off_map:
        return say("command.add.tune", **facts)
    return say("command.add.tune_off_map", **facts, off_map=readiness.off_map)
