"""`homefret score`: a tune file note by note, in order of play, each note with its home on the neck."""

import argparse
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

from game.commands.answers import add_json_flag, print_json, print_table
from game.commands.map_options import add_map_words, add_read_word, map_from, reading_from
from game.music.score import Bar, Score
from game.music.written import WrittenNote, written_notes, written_out
from game.neck.neck_map import NeckMap
from game.tunes.read_tune import read_tune


def add_parser(subparsers: Any) -> None:
    """Add `score` and its words to the program's commands."""
    parser = subparsers.add_parser("score", help="the notes of a tune in order of play, each with its home")
    parser.add_argument("file", type=Path, metavar="FILE", help="MusicXML (.musicxml, .xml, .mxl), ABC or MIDI")
    parser.add_argument("--part", type=int, metavar="N", help="part of the score, or tune of a book, from 1")
    add_read_word(parser)
    add_map_words(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Read the tune and print it; raises `HomefretError` for what the player can mend."""
    score = read_tune(args.file, part=args.part, read=reading_from(args))
    answer = score_answer(score, map_from(args, score.reading))
    if args.json:
        print_json(answer)
    else:
        _print_for_people(answer)
    return 0


def score_answer(score: Score, neck_map: NeckMap) -> dict[str, Any]:
    """The score as the `score` command answers it: design contract, see content/schemas/score.schema.json."""
    played = written_out(score).bars
    notes = [_note_answer(note, neck_map) for note in written_notes(played, score.reading)]
    first = score.bars[0]
    return {
        "title": score.title,
        "composer": score.composer,
        "part": score.part,
        "format": score.file_format,
        "read": score.reading.value,
        "octave": score.octave_reason,
        "key_fifths": first.key.fifths,
        "meter": first.meter.text,
        "changes": _changes(score.bars),
        "pickup": str(first.length) if first.pickup else None,
        "bars": len(score.bars),
        "notes": notes,
        "chords": _chords(played),
        "off_map": [note["n"] for note in notes if note["string"] is None],
        "warnings": list(score.warnings),
    }


def _note_answer(note: WrittenNote, neck_map: NeckMap) -> dict[str, Any]:
    home = neck_map.home_of(note.sounding)
    return {
        "n": note.n,
        "bar": note.bar,
        "onset": str(note.onset),
        "length": str(note.length),
        "written": note.pitch.name,
        "sounding": note.sounding,
        "string": home.place.string if home else None,
        "fret": home.place.fret if home else None,
    }


def _changes(bars: Sequence[Bar]) -> list[dict[str, Any]]:
    """Where key or metre change, in the order of the page."""
    changes = []
    for before, bar in pairwise(bars):
        change: dict[str, Any] = {}
        if bar.key.fifths != before.key.fifths:
            change["key_fifths"] = bar.key.fifths
        if bar.meter != before.meter:
            change["meter"] = bar.meter.text
        if change:
            changes.append({"bar": bar.number, **change})
    return changes


def _chords(played: Sequence[Bar]) -> list[dict[str, str]]:
    chords = []
    bar_start = Fraction(0)
    for bar in played:
        chords += [{"onset": str(bar_start + chord.onset), "text": chord.text} for chord in bar.chords]
        bar_start += bar.length
    return chords


def _print_for_people(answer: dict[str, Any]) -> None:
    by = f" ({answer['composer']})" if answer["composer"] else ""
    print(f"{answer['title'] or 'Untitled'}{by}: {answer['bars']} bars, {len(answer['notes'])} notes to play")
    print(answer["octave"])
    for change in answer["changes"]:
        what = " and ".join(
            f"{'key' if name == 'key_fifths' else 'metre'} {_signed(value)}"
            for name, value in change.items()
            if name != "bar"
        )
        print(f"Bar {change['bar']} changes to {what}.")
    rows = (
        (note["n"], note["bar"], note["onset"], note["length"], note["written"], note["string"], note["fret"])
        for note in answer["notes"]
    )
    print_table(("n", "bar", "onset", "length", "written", "string", "fret"), rows)
    if answer["off_map"]:
        print(f"Without a home on this map: notes {', '.join(str(n) for n in answer['off_map'])}.")
    for warning in answer["warnings"]:
        print(warning)


def _signed(value: int | str) -> str:
    """A key as its sharps or flats, a metre as it is."""
    if isinstance(value, str):
        return value
    kind = "sharp" if value > 0 else "flat"
    return f"with {abs(value) or 'no'} {kind}{'' if abs(value) == 1 else 's'}"
