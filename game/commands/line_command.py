"""`homefret line`: a melody never seen before, on the player's map, by level, rhythm and key."""

import argparse
from pathlib import Path
from random import Random
from typing import Any

from game.commands.answers import add_json_flag, print_json, print_table
from game.commands.map_options import add_map_words, add_read_word, map_from, reading_from
from game.commands.score_command import score_answer
from game.engraving.notation import musicxml
from game.errors import TuneError
from game.lines.fresh_line import COMMON_TIME, fresh_line, rhythm_for
from game.lines.levels import LEVELS, level_of
from game.lines.rhythms import RHYTHMS, meter_named
from game.lines.scale import key_named
from game.music.score import Reading, Score

DEFAULT_BARS = 8


def add_parser(subparsers: Any) -> None:
    """Add `line` and its words to the program's commands."""
    parser = subparsers.add_parser("line", help="a melody never seen before, on your map")
    names = ", ".join(f"{level.number} {level.name}" for level in LEVELS)
    parser.add_argument("--level", type=int, default=1, metavar="N", help=f"what it holds: {names}")
    parser.add_argument("--key", default="F", metavar="K", help="C, F#, Bb, in the minor Am (F)")
    rhythms = ", ".join(f"{rhythm.number} {rhythm.name}" for rhythm in RHYTHMS)
    parser.add_argument("--rhythm", type=int, metavar="N", help=f"its rhythm: {rhythms} (what goes with the level)")
    parser.add_argument("--meter", default=COMMON_TIME.text, metavar="M", help=f"3/4, 6/8 ({COMMON_TIME.text})")
    parser.add_argument("--bars", type=int, default=DEFAULT_BARS, metavar="N", help=f"how long ({DEFAULT_BARS})")
    parser.add_argument("--seed", type=int, metavar="N", help="for repeating it")
    parser.add_argument("--out", type=Path, metavar="FILE.musicxml", help="write it as MusicXML")
    add_map_words(parser)
    add_read_word(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


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
    answer = score_answer(score, neck_map) | {
        "level": level.number,
        "level_name": level.name,
        "rhythm": rhythm.number,
        "rhythm_name": rhythm.name,
        "seed": seed,
    }
    if args.out:
        _write(args.out, score)
        answer["file"] = str(args.out)
    if args.json:
        print_json(answer)
    else:
        print(f"{score.title}, seed {seed}")
        columns = ("n", "bar", "onset", "length", "written", "string", "fret")
        print_table(columns, ([note[column] for column in columns] for note in answer["notes"]))
    return 0


def _write(path: Path, score: Score) -> None:
    text = musicxml(score.bars, score.reading, title=score.title, composer=score.composer, swung=score.swung)
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        raise TuneError("command.line_written_name_another", path=path, strerror=error.strerror) from error
