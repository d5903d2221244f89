"""`homefret map`: the homes of a position, which position serves given tunes best, and the chart to print."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from game.commands.answers import add_json_flag, print_json, print_table
from game.commands.map_options import add_map_words, add_read_word, map_from, reading_from
from game.errors import MapError
from game.music.keys import Key, spelled
from game.music.score import Reading
from game.neck.map_search import MapFit, best_maps, fit_of
from game.neck.neck_map import NeckMap, roman

CHART_ENDINGS = (".png", ".pdf", ".svg")


def add_parser(subparsers: Any) -> None:
    parser = subparsers.add_parser("map", help="one home on the neck for each written note")
    add_map_words(parser)
    add_read_word(parser)
    parser.add_argument(
        "--for",
        dest="tunes",
        nargs="+",
        default=[],
        type=Path,
        metavar="FILE",
        help="how the map serves these tunes, and which position would serve them best",
    )
    parser.add_argument("--out", type=Path, metavar="FILE", help="the chart, as .png, .pdf or .svg")
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    neck_map = map_from(args, reading_from(args) or Reading.GUITAR)
    if args.out and args.out.suffix.lower() not in CHART_ENDINGS:
        raise MapError("command.chart_written_give_name", out=args.out)
    answer = map_answer(neck_map)
    if args.tunes:
        soundings = _soundings(args.tunes, args)
        answer |= _fit_answer(
            fit_of(neck_map, soundings),
            best_maps(soundings, tuning=neck_map.tuning, frets=neck_map.frets, reading=neck_map.reading),
        )
    if args.out:
        _write_chart(neck_map, args.out)
        answer["chart"] = str(args.out)
    if args.json:
        print_json(answer)
    else:
        _print_for_people(neck_map, answer)
    return 0


def map_answer(neck_map: NeckMap) -> dict[str, Any]:
    """The map as the `map` command answers it: design contract, see content/schemas/map.schema.json."""
    octaves = neck_map.reading.octaves_down
    return {
        "tuning": neck_map.tuning.name,
        "read": neck_map.reading.value,
        "position": neck_map.position,
        "frets": neck_map.frets,
        "homes": [
            {
                "sounding": home.sounding,
                "written": spelled(home.sounding + 12 * octaves, Key(0)).name,
                "string": home.place.string,
                "fret": home.place.fret,
                "stretch": home.stretch,
                "outlying": home.outlying,
            }
            for home in neck_map.homes
        ],
    }


def _soundings(files: Sequence[Path], args: argparse.Namespace) -> list[int]:
    from game.music.written import written_notes, written_out  # noqa: PLC0415 - only when tunes are asked about
    from game.tunes.read_tune import read_tune  # noqa: PLC0415

    soundings = []
    for file in files:
        score = read_tune(file, read=reading_from(args))
        soundings += [note.sounding for note in written_notes(written_out(score).bars, score.reading)]
    return soundings


def _fit_answer(fit: MapFit, ranked: Sequence[MapFit]) -> dict[str, Any]:
    return {
        "on_map_share": round(fit.on_map_share, 4),
        "stretch_share": round(fit.stretch_share, 4),
        "unreached": list(fit.unreached),
        "best_positions": [
            {
                "position": other.neck_map.position,
                "on_map_share": round(other.on_map_share, 4),
                "stretch_share": round(other.stretch_share, 4),
            }
            for other in ranked
        ],
    }


def _write_chart(neck_map: NeckMap, out: Path) -> None:
    from game.report.map_chart import write_chart  # noqa: PLC0415 - the drawing library is slow to load

    try:
        write_chart(neck_map, out)
    except OSError as error:
        raise MapError("command.chart_written", out=out, strerror=error.strerror or error) from error


def _print_for_people(neck_map: NeckMap, answer: dict[str, Any]) -> None:
    print(f"Position {roman(neck_map.position)}, {neck_map.tuning.name} tuning, {neck_map.reading.value} octave")
    rows = ((home["written"], home["sounding"], home["string"], home["fret"], _reach(home)) for home in answer["homes"])
    print_table(("written", "sounding", "string", "fret", ""), rows)
    if "on_map_share" in answer:
        best = answer["best_positions"][0]
        print(f"These tunes: {_shares(answer)}.")
        print(f"Best served by position {roman(best['position'])}: {_shares(best)}.")
    if "chart" in answer:
        print(f"Chart written to {answer['chart']}")


def _reach(home: dict[str, Any]) -> str:
    if home["stretch"]:
        return "stretch"
    return "outlying" if home["outlying"] else ""


def _shares(fit: dict[str, Any]) -> str:
    return f"{fit['on_map_share']:.1%} of their notes have a home there, {fit['stretch_share']:.1%} with a stretch"
