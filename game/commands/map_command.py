"""`homefret map`: the homes of a position, which position serves given tunes best, and the chart to print."""

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import msgspec

from game.commands.answers.map_answer import MapAnswer, MapHome, MapServing, PositionServed, UnreadFile
from game.commands.map_options import add_map_words, add_read_word, map_from, reading_from
from game.commands.printing import add_json_flag, print_json, print_table
from game.commands.reading_progress import tell_progress
from game.commands.tunes_of_files import UnreadTune, tunes_of
from game.errors import MapError, TuneError
from game.message import Message, message
from game.music.keys import Key, spelled
from game.music.melody import melody
from game.music.score import Reading
from game.neck.map_figures import MapFigures, figures_of
from game.neck.map_search import best_maps
from game.neck.melody_counts import melody_counts
from game.neck.neck_map import Home, NeckMap, roman
from game.text.catalogue import in_english, say, tell_all
from game.text.clean_text import cleaned_name

CHART_ENDINGS = (".png", ".pdf", ".svg")


@dataclass(frozen=True, slots=True, kw_only=True)
class TunesServed:
    """How some tunes are served: by the `own` map; by the `best` one of each position, the best first; and by each
    position as it is, `unmoved`: fewest notes without a home first, then fewest stretches.
    """

    own: MapFigures
    best: tuple[MapFigures, ...]
    unmoved: tuple[MapFigures, ...]


def add_parser(subparsers: Any) -> None:
    """Add `map` and its words to the program's commands."""
    parser = subparsers.add_parser("map", help=say("command.map.summary"))
    file = say("metavar.file")
    add_map_words(parser)
    add_read_word(parser)
    parser.add_argument(
        "--for", dest="tunes", nargs="+", default=[], type=Path, metavar=file, help=say("command.map.for")
    )
    parser.add_argument("--out", type=Path, metavar=file, help=say("command.map.out"))
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the map, and write its chart where asked to; raises `HomefretError` for what the player can mend."""
    neck_map = map_from(args, reading_from(args) or Reading.GUITAR)
    if args.out and args.out.suffix.lower() not in CHART_ENDINGS:
        raise MapError("command.map.no_chart_ending", out=args.out)
    served, unread = _served(args.tunes, neck_map, reading_from(args)) if args.tunes else (None, ())
    answer = map_answer(neck_map, served)
    numbers = args.tuning.replace(",", " ").split()
    if all(word.isdecimal() for word in numbers):
        # Who gives a tuning by its numbers is answered by them, though it may have a name.
        answer = msgspec.structs.replace(answer, tuning=" ".join(numbers))
    if unread:
        answer = msgspec.structs.replace(answer, unread=[_unread(one) for one in unread])
    if args.out:
        _write_chart(neck_map, args.out)
        answer = msgspec.structs.replace(answer, chart=str(args.out))
    if args.json:
        print_json(answer)
    else:
        _print_for_people(neck_map, served, args.out)
        print("".join(say("command.map.not_read", fault=one.fault) + "\n" for one in unread), end="")
    return 0


def map_answer(neck_map: NeckMap, served: TunesServed | None = None) -> MapAnswer:
    """The map as the `map` command answers it, and how it and the positions serve some tunes."""
    answer = MapAnswer(
        tuning=neck_map.tuning.name,
        read=neck_map.reading,
        position=neck_map.position,
        frets=neck_map.frets,
        homes=[_home(home, neck_map) for home in neck_map.homes],
    )
    if served is None:
        return answer
    own, best = served.own, served.best
    return msgspec.structs.replace(
        answer,
        on_map_share=round(own.on_map_share, 4),
        stretch_share=round(own.stretch_share, 4),
        unreached=list(own.unreached),
        best_positions=[
            PositionServed(
                position=fit.neck_map.position,
                on_map_share=round(fit.on_map_share, 4),
                stretch_share=round(fit.stretch_share, 4),
            )
            for fit in served.unmoved
        ],
        best=_serving(best[0]),
        positions=[_serving(figures) for figures in best],
    )


def _serving(figures: MapFigures) -> MapServing:
    return MapServing(
        position=figures.neck_map.position,
        homes=[_home(home, figures.neck_map) for home in figures.neck_map.homes],
        on_map_share=round(figures.on_map_share, 4),
        stretch_share=round(figures.stretch_share, 4),
        outlying_share=round(figures.outlying_share, 4),
        movement=round(figures.movement, 4),
        gives_up=[in_english(one) for one in figures.gives_up],
    )


def _home(home: Home, neck_map: NeckMap) -> MapHome:
    return MapHome(
        sounding=home.sounding,
        written=spelled(home.sounding + 12 * neck_map.reading.octaves_down, Key(0)).name,
        string=home.place.string,
        fret=home.place.fret,
        stretch=home.stretch,
        outlying=home.outlying,
    )


def _unread(one: UnreadTune) -> UnreadFile:
    return UnreadFile(file=cleaned_name(one.path), why=in_english(one.fault))


def _served(
    paths: Sequence[Path], neck_map: NeckMap, read: Reading | None
) -> tuple[TunesServed, tuple[UnreadTune, ...]]:
    """How the tunes in these files and folders are served, and what was not read.

    Raises `TuneError` when nothing was.
    """
    scores, unread = tunes_of(paths, read, tell_progress)
    if not scores and len(unread) == 1:
        raise TuneError(unread[0].fault)
    if not scores and unread:
        raise TuneError("command.add.none_could_be_read", count=len(unread), fault=unread[0].fault)
    if not scores:
        raise TuneError("command.add.no_tune_files", name=cleaned_name(paths[0]))
    counts = melody_counts(melody(score) for score in scores)
    best = best_maps(counts, tuning=neck_map.tuning, frets=neck_map.frets, reading=neck_map.reading, hand=neck_map.hand)
    plain = (neck_map.remade(position=one.neck_map.position, choices={}, second=None) for one in best)
    unmoved = sorted(
        (figures_of(one, counts) for one in plain),
        key=lambda one: (-one.on_map_share, one.stretch_share, one.neck_map.position),
    )
    return TunesServed(own=figures_of(neck_map, counts), best=best, unmoved=tuple(unmoved)), unread


def _write_chart(neck_map: NeckMap, out: Path) -> None:
    from game.report.map_chart import write_chart  # noqa: PLC0415 - the drawing library is slow to load

    try:
        write_chart(neck_map, out)
    except OSError as error:
        raise MapError("command.map.chart_not_written", out=out, strerror=error.strerror or error) from error


def _print_for_people(neck_map: NeckMap, served: TunesServed | None, out: Path | None) -> None:
    position, tuning = roman(neck_map.position), neck_map.tuning.told
    print(say(f"command.map.heading.{neck_map.reading.value}", position=position, tuning=tuning))
    rows = ((home.written, home.sounding, home.string, home.fret) for home in map_answer(neck_map).homes)
    reaches = map(_reach, neck_map.homes)
    print_table(
        ("written", "sounding", "string", "fret", ""), ((*row, reach) for row, reach in zip(rows, reaches, strict=True))
    )
    if served is not None:
        best = served.best[0]
        print(say("command.map.these_tunes", shares=_shares(served.own)))
        print(say("command.map.best_position", position=roman(best.neck_map.position), shares=_shares(best)))
        for figures in served.best:
            place, gives_up = roman(figures.neck_map.position), tell_all(figures.gives_up)
            print(say("command.map.position", position=place, movement=figures.movement, gives_up=gives_up).rstrip())
    if out:
        print(say("command.map.chart_written", out=out))


def _reach(home: Home) -> str:
    if home.stretch:
        return say("command.map.stretch")
    return say("command.map.outlying") if home.outlying else ""


def _shares(fit: MapFigures) -> Message:
    return message("command.map.shares", on_map=fit.on_map_share, stretched=fit.stretch_share)
