"""`homefret map`: the homes of a position, which position serves given tunes best, the chart to print, the map file."""

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import msgspec

from game.assignments.map_table import stretch_word
from game.commands.answers.map_answer import (
    MapAnswer,
    MapHand,
    MapHome,
    MapSecond,
    MapServing,
    PositionServed,
    UnreadFile,
)
from game.commands.map_asked import AskedMap, add_asked_words, asked_map
from game.commands.map_outputs import is_chart, is_map_file, write_chart, write_map
from game.commands.map_served import TunesServed, best_at, best_of_positions, counts_of, tunes_served
from game.commands.path_option import path_given
from game.commands.player_option import add_player_word, player_from
from game.commands.printing import add_json_flag, print_json, print_table
from game.commands.tunes_of_files import UnreadTune
from game.message import Message, message
from game.music.keys import Key, spelled
from game.music.names import NoteNames
from game.music.notes_called import notes_called
from game.music.score import Reading
from game.neck.hand import USUAL_HAND, FrettingHand
from game.neck.joined_maps import best_seam, joined_at
from game.neck.map_figures import MapFigures
from game.neck.melody_counts import MelodyCounts
from game.neck.neck_map import Home, NeckMap, roman
from game.player.settings import Settings
from game.player.settings_file import load_or_defaults
from game.text.catalogue import in_english, say, tell, tell_all
from game.text.clean_text import cleaned_name

if TYPE_CHECKING:
    from game.report.map_chart import ChartStyle


@dataclass(frozen=True, slots=True)
class _Made:
    """The map that is told of, and why the hand shifts where it does, where it has a second region."""

    neck_map: NeckMap
    reasons: tuple[Message, ...] = ()


def add_parser(subparsers: Any) -> None:
    """Add `map` and its words to the program's commands."""
    parser = subparsers.add_parser("map", help=say("command.map.summary"))
    file = say("metavar.file")
    add_asked_words(parser)
    parser.add_argument(
        "--for", dest="tunes", nargs="+", default=[], type=path_given, metavar=file, help=say("command.map.for")
    )
    parser.add_argument("--best", action="store_true", help=say("command.map.best"))
    parser.add_argument("--out", type=path_given, metavar=file, help=say("command.map.out"))
    parser.add_argument("--blank", action="store_true", help=say("command.map.blank"))
    parser.add_argument("--left-handed", action="store_true", help=say("command.map.left_handed"))
    add_player_word(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the map, and write its chart or its file where asked to; raises `HomefretError` for what the player can
    mend.
    """
    settings = load_or_defaults(player_from(args).settings_path).settings
    asked = asked_map(args)
    counts, unread, served = MelodyCounts(), tuple[UnreadTune, ...](), None
    made = _Made(asked.neck_map)
    if args.tunes:
        read = asked.neck_map.reading if args.read or args.map else None
        counts, unread = counts_of(args.tunes, read, asked.neck_map.places)
        best = best_of_positions(asked.neck_map, counts)
        made = _joined(_chosen(args, asked.neck_map, best, counts), asked, counts)
        served = tunes_served(made.neck_map, counts, best)
    else:
        made = _joined(asked.neck_map, asked, counts)
    _write(args, made.neck_map, _style(args, asked.capo, settings))
    if args.json:
        print_json(_whole_answer(args, asked.capo, made, served, unread))
    else:
        _print_for_people(made, served, settings.note_names)
        _print_what_else(args.out, unread)
    return 0


def _chosen(args: argparse.Namespace, neck_map: NeckMap, best: Sequence[MapFigures], counts: MelodyCounts) -> NeckMap:
    """The map asked for or, with `--best`, the best one of its position, of all where none was named."""
    if not args.best:
        return neck_map
    found = best[0].neck_map if args.position is None else best_at(neck_map, args.position, counts)
    return found.remade(second=neck_map.second)


def _joined(neck_map: NeckMap, asked: AskedMap, counts: MelodyCounts) -> _Made:
    """The map with its second region, at the best seam where none was named."""
    if asked.second is not None:
        joined = best_seam(neck_map, asked.second, counts)
    elif neck_map.second is not None:
        joined = joined_at(neck_map, neck_map.second.position, neck_map.second.seam, counts)
    else:
        return _Made(neck_map)
    return _Made(joined.neck_map, joined.reasons)


def _style(args: argparse.Namespace, capo: int, settings: Settings) -> "ChartStyle | None":
    """How the chart is to be, where one is: as the player likes it."""
    if not is_chart(args.out):
        return None
    from game.report.map_chart import ChartStyle  # noqa: PLC0415 - the drawing library is slow to load

    return ChartStyle(
        names=settings.note_names,
        left_handed=args.left_handed or settings.left_handed,
        capo=capo,
        blank=args.blank,
    )


def _write(args: argparse.Namespace, neck_map: NeckMap, style: "ChartStyle | None") -> None:
    if style is not None:
        write_chart(neck_map, args.out, style)
    elif args.out is not None:
        # The best map has nothing of the one it began with, whose homes would be lost.
        write_map(neck_map, args.out, None if args.best else args.map)


def _whole_answer(
    args: argparse.Namespace, capo: int, made: _Made, served: TunesServed | None, unread: Sequence[UnreadTune]
) -> MapAnswer:
    answer = map_answer(made.neck_map, served, made.reasons)
    changes: dict[str, Any] = {}
    numbers = (args.tuning or "").replace(",", " ").split()
    if numbers and all(word.isdecimal() for word in numbers):
        # Who gives a tuning by its numbers is answered by them, though it may have a name.
        changes["tuning"] = " ".join(numbers)
    if capo:
        changes["capo"] = capo
    if unread:
        changes["unread"] = [_unread(one) for one in unread]
    if args.out:
        changes["map_file" if is_map_file(args.out) else "chart"] = str(args.out)
    return msgspec.structs.replace(answer, **changes)


def map_answer(neck_map: NeckMap, served: TunesServed | None = None, reasons: Sequence[Message] = ()) -> MapAnswer:
    """The map as the `map` command answers it, why its hand shifts, and how it and the positions serve some tunes."""
    answer = MapAnswer(
        tuning=neck_map.tuning.name,
        read=neck_map.reading,
        position=neck_map.position,
        frets=neck_map.frets,
        homes=[_home(home, neck_map) for home in neck_map.homes],
        hand=_hand(neck_map.hand),
    )
    if neck_map.second is not None:
        second = MapSecond(
            position=neck_map.second.position,
            seam=_written(neck_map.second.seam, neck_map.reading),
            reasons=[in_english(one) for one in reasons],
        )
        answer = msgspec.structs.replace(answer, second=second)
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


def _hand(hand: FrettingHand) -> MapHand:
    return MapHand(span=hand.span, stretch=stretch_word(hand), open_strings=hand.open_strings)


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
        written=_written(home.sounding, neck_map.reading),
        string=home.place.string,
        fret=home.place.fret,
        stretch=home.stretch,
        outlying=home.outlying,
    )


def _written(sounding: int, reading: Reading) -> str:
    return spelled(sounding + 12 * reading.octaves_down, Key(0)).name


def _unread(one: UnreadTune) -> UnreadFile:
    return UnreadFile(file=cleaned_name(one.path), why=in_english(one.fault))


def _print_for_people(made: _Made, served: TunesServed | None, names: NoteNames) -> None:
    neck_map = made.neck_map
    position, tuning = roman(neck_map.position), neck_map.tuning.told
    print(say(f"command.map.heading.{neck_map.reading.value}", position=position, tuning=tuning))
    if neck_map.hand != USUAL_HAND:
        print(tell(_hand_told(neck_map.hand)))
    for one in made.reasons:
        print(tell(_called(one, names)))
    homes = map_answer(neck_map).homes
    rows = ((home.written, home.sounding, home.string, home.fret) for home in homes)
    reaches = map(_reach, neck_map.homes)
    print_table(
        ("written", "sounding", "string", "fret", ""), ((*row, reach) for row, reach in zip(rows, reaches, strict=True))
    )
    if served is None:
        return
    best = served.best[0]
    print(say("command.map.these_tunes", shares=_shares(served.own)))
    print(say("command.map.best_position", position=roman(best.neck_map.position), shares=_shares(best)))
    for figures in served.best:
        place = roman(figures.neck_map.position)
        gives_up = tell_all(_called(one, names) for one in figures.gives_up)
        print(say("command.map.position", position=place, movement=figures.movement, gives_up=gives_up).rstrip())


def _print_what_else(out: Path | None, unread: Sequence[UnreadTune]) -> None:
    if out is not None:
        print(say("command.map.map_written" if is_map_file(out) else "command.map.chart_written", out=out))
    print("".join(say("command.map.not_read", fault=one.fault) + "\n" for one in unread), end="")


def _hand_told(hand: FrettingHand) -> Message:
    return message(
        "command.map.hand",
        span=hand.span,
        stretches=message(f"settings.stretches.{stretch_word(hand)}"),
        open_strings=message(f"settings.open_strings.{hand.open_strings}"),
    )


def _called(said: Message, names: NoteNames) -> Message:
    """A sentence with its notes as the player calls them; by letters as in the table, where they are letters."""
    return said if names is NoteNames.ENGLISH else notes_called(said, names)


def _reach(home: Home) -> str:
    if home.stretch:
        return say("command.map.stretch")
    return say("command.map.outlying") if home.outlying else ""


def _shares(fit: MapFigures) -> Message:
    if not fit.on_map_share:
        return message("command.map.nothing_on_map")
    return message("command.map.shares", on_map=fit.on_map_share, stretched=fit.stretch_share)
