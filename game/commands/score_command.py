"""`homefret score`: a tune file note by note, in order of play, each note with its home on the neck."""

import argparse
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Any

from game.commands.answers.score_answer import ScoreAnswer, ScoreChange, ScoreChord, ScoreNote
from game.commands.map_options import add_map_words, add_read_word, map_from, reading_from
from game.commands.number_option import whole_number
from game.commands.path_option import path_given
from game.commands.printing import add_json_flag, print_json, print_table
from game.message import Message, message
from game.music.at_reading import at_reading
from game.music.order_choices import choices_told, order_told, straight_on
from game.music.score import Bar, Score
from game.music.written import WrittenNote, written_notes, written_out
from game.neck.neck_map import NeckMap
from game.text.catalogue import in_english, say, tell
from game.tunes.read_tune import read_tune


def add_parser(subparsers: Any) -> None:
    """Add `score` and its words to the program's commands."""
    parser = subparsers.add_parser("score", help=say("command.score.summary"))
    parser.add_argument("file", type=path_given, metavar=say("metavar.file"), help=say("command.score.file"))
    parser.add_argument("--part", type=whole_number, metavar="N", help=say("command.score.part"))
    add_read_word(parser)
    add_map_words(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Read the tune and print it; raises `HomefretError` for what the player can mend."""
    score = read_tune(args.file, part=args.part, read=reading_from(args))
    neck_map = map_from(args, reading_from(args) or score.reading)
    score = at_reading(score, neck_map.reading, neck_map.places)
    answer = score_answer(score, neck_map)
    if args.json:
        print_json(answer)
    else:
        _print_for_people(score, answer)
    return 0


def score_answer(score: Score, neck_map: NeckMap) -> ScoreAnswer:
    """The score as the `score` command answers it."""
    return ScoreAnswer(**score_fields(score, neck_map))


def score_fields(score: Score, neck_map: NeckMap) -> dict[str, Any]:
    """The fields of a `ScoreAnswer`, which a fresh line has too."""
    played = written_out(score).bars
    notes = [_note(note, neck_map) for note in written_notes(played, score.reading)]
    first = score.bars[0]
    return {
        "title": score.title,
        "composer": score.composer,
        "part": score.part,
        "format": score.file_format,
        "read": score.reading,
        "octave": in_english(score.octave_reason) if score.octave_reason else "",
        "key_fifths": first.key.fifths,
        "meter": first.meter.text,
        "changes": [_change(before, bar) for before, bar in _changing(score.bars)],
        "pickup": str(first.length) if first.pickup else None,
        "bars": len(score.bars),
        "notes": notes,
        "chords": _chords(played),
        "off_map": [note.n for note in notes if note.string is None],
        "order": order_told(score.bars),
        "warnings": [in_english(warning) for warning in (*score.warnings, *choices_told(score.bars))],
    }


def print_notes(notes: Iterable[ScoreNote], columns: Sequence[str]) -> None:
    """Notes for people, some of their fields as columns."""
    print_table(columns, ([getattr(note, column) for column in columns] for note in notes))


def _note(note: WrittenNote, neck_map: NeckMap) -> ScoreNote:
    home = neck_map.home_of(note.sounding)
    return ScoreNote(
        n=note.n,
        bar=note.bar,
        onset=str(note.onset),
        length=str(note.length),
        written=note.pitch.name,
        sounding=note.sounding,
        string=home.place.string if home else None,
        fret=home.place.fret if home else None,
    )


def _changing(bars: Sequence[Bar]) -> list[tuple[Bar, Bar]]:
    """The bars with another key or metre than the one before, with that one, in the order of the page."""
    return [
        (before, bar)
        for before, bar in pairwise(bars)
        if bar.key.fifths != before.key.fifths or bar.meter != before.meter
    ]


def _change(before: Bar, bar: Bar) -> ScoreChange:
    changed: dict[str, Any] = {}
    if bar.key.fifths != before.key.fifths:
        changed["key_fifths"] = bar.key.fifths
    if bar.meter != before.meter:
        changed["meter"] = bar.meter.text
    return ScoreChange(bar=bar.number, **changed)


def _chords(played: Sequence[Bar]) -> list[ScoreChord]:
    chords = []
    bar_start = Fraction(0)
    for bar in played:
        chords += [ScoreChord(onset=str(bar_start + chord.onset), text=chord.text) for chord in bar.chords]
        bar_start += bar.length
    return chords


def _print_for_people(score: Score, answer: ScoreAnswer) -> None:
    title = answer.title or say("command.score.untitled")
    named = message("command.score.by", title=title, composer=answer.composer) if answer.composer else title
    print(say("command.score.heading", title=named, bars=answer.bars, notes=len(answer.notes)))
    if score.octave_reason:
        print(tell(score.octave_reason))
    for before, bar in _changing(score.bars):
        print(say("command.score.changes", bar=bar.number, changes=_changes_said(before, bar)))
    print_notes(answer.notes, ("n", "bar", "onset", "length", "written", "string", "fret"))
    if answer.off_map:
        print(say("command.score.off_map", notes=tuple(str(n) for n in answer.off_map)))
    if not straight_on(score.bars):
        print(say("command.score.order", order=order_told(score.bars)))
    for warning in (*score.warnings, *choices_told(score.bars)):
        print(tell(warning))


def _changes_said(before: Bar, bar: Bar) -> tuple[Message, ...]:
    """What is another than in the bar before."""
    said = [_key_said(bar.key.fifths)] if bar.key.fifths != before.key.fifths else []
    if bar.meter != before.meter:
        said.append(message("command.score.meter", meter=bar.meter.text))
    return tuple(said)


def _key_said(fifths: int) -> Message:
    """A key as its sharps or flats."""
    if not fifths:
        return message("command.score.key_of_none")
    return message("command.score.key_of_sharps" if fifths > 0 else "command.score.key_of_flats", count=abs(fifths))
