"""`homefret line`: a melody never seen before, on the player's map, by level, rhythm and key."""

import argparse
from pathlib import Path
from random import Random
from typing import Any

from msgspec import UNSET

from game.commands.answers.line_answer import LineAnswer
from game.commands.map_options import add_map_words, add_read_word, map_from, reading_from
from game.commands.number_option import whole_number
from game.commands.path_option import path_given
from game.commands.printing import add_json_flag, print_json
from game.commands.score_command import print_notes, score_fields
from game.engraving.notation import musicxml
from game.errors import TuneError, reason_of
from game.lines.fresh_line import COMMON_TIME, WRITER_VERSION, fresh_line, rhythm_for
from game.lines.levels import LEVELS, level_of
from game.lines.rhythms import RHYTHMS, meter_named
from game.lines.scale import key_named
from game.lines.titles import title_told
from game.music.score import Reading, Score
from game.paths import write_whole_file
from game.text.catalogue import say, tell

DEFAULT_BARS = 8


def add_parser(subparsers: Any) -> None:
    """Add `line` and its words to the program's commands."""
    parser = subparsers.add_parser("line", help=say("command.line.summary"))
    _add_words_of_music(parser)
    parser.add_argument("--seed", type=whole_number, metavar="N", help=say("command.line.seed"))
    parser.add_argument(
        "--out", type=path_given, metavar=say("metavar.file_of_kind", ending=".musicxml"), help=say("command.line.out")
    )
    add_map_words(parser)
    add_read_word(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def _add_words_of_music(parser: argparse.ArgumentParser) -> None:
    levels = tuple(f"{level.number} {tell(level.told)}" for level in LEVELS)
    rhythms = tuple(f"{rhythm.number} {tell(rhythm.told)}" for rhythm in RHYTHMS)
    common, bars = COMMON_TIME.text, DEFAULT_BARS
    parser.add_argument(
        "--level", type=whole_number, default=1, metavar="N", help=say("command.line.level", levels=levels)
    )
    parser.add_argument("--key", default="F", metavar="K", help=say("command.line.key"))
    parser.add_argument("--rhythm", type=whole_number, metavar="N", help=say("command.line.rhythm", rhythms=rhythms))
    parser.add_argument("--meter", default=common, metavar="M", help=say("command.line.meter", default=common))
    parser.add_argument(
        "--bars", type=whole_number, default=bars, metavar="N", help=say("command.line.bars", default=bars)
    )


def run(args: argparse.Namespace) -> int:
    """Make the line and print it; raises `HomefretError` for what the player can mend."""
    neck_map = map_from(args, reading_from(args) or Reading.GUITAR)
    seed = Random().randrange(2**31) if args.seed is None else args.seed
    level, meter = level_of(args.level), meter_named(args.meter)
    rhythm = rhythm_for(level, meter, args.rhythm)
    score = fresh_line(
        level,
        neck_map,
        key=key_named(args.key),
        bars=args.bars,
        rng=Random(seed),
        meter=meter,
        rhythm=rhythm.number,
    )
    if args.out:
        _write(args.out, score)
    answer = LineAnswer(
        **score_fields(score, neck_map),
        level=level.number,
        level_name=level.name,
        rhythm=rhythm.number,
        rhythm_name=rhythm.name,
        seed=seed,
        writer=WRITER_VERSION,
        file=str(args.out) if args.out else UNSET,
    )
    if args.json:
        print_json(answer)
    else:
        print(say("command.line.heading", title=title_told(score.title), seed=str(seed)))
        print_notes(answer.notes, ("n", "bar", "onset", "length", "written", "string", "fret"))
    return 0


def _write(path: Path, score: Score) -> None:
    text = musicxml(score.bars, score.reading, title=score.title, composer=score.composer, swung=score.swung)
    try:
        write_whole_file(path, text.encode())
    except OSError as error:
        raise TuneError("command.line.not_written", path=path, strerror=reason_of(error)) from error
