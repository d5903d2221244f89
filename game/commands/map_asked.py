"""Which map `homefret map` is asked for: its words, and the map they come to, every fault of theirs told at once."""

import argparse
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from game.assignments.map_file import MAP_ENDING, read_map
from game.assignments.map_table import STRETCHES, seam_fault, seam_of, stretch_word
from game.commands.map_options import add_map_words, add_read_word, reading_from, tuning_from
from game.commands.map_outputs import CHART_ENDINGS, faults_of_name, is_chart
from game.commands.number_option import whole_number
from game.commands.path_option import path_given
from game.errors import MapError
from game.message import Message, message
from game.music.pitch import pitch
from game.music.score import Reading
from game.neck.hand import USUAL_HAND, FrettingHand
from game.neck.neck_map import DEFAULT_POSITION, FEWEST_FRETS, NeckMap, SecondRegion, standard_map
from game.neck.tuning import DEFAULT_FRETS, HIGHEST_CAPO, MAX_FRETS, Tuning
from game.text.catalogue import say

_OF_CHARTS: Final = ("blank", "left_handed")


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedMap:
    """A map with a capo at a fret, 0 for none, from which its frets are counted. `second` is the position of a region
    whose seam the tunes are to choose, None where nothing is left to choose.
    """

    neck_map: NeckMap
    capo: int = 0
    second: int | None = None


def add_asked_words(parser: argparse.ArgumentParser) -> None:
    """The words that settle the map."""
    file = say("metavar.file_of_kind", ending=MAP_ENDING)
    add_map_words(parser)
    add_read_word(parser)
    parser.add_argument("--span", type=whole_number, metavar="N", help=say("command.map.span", default=USUAL_HAND.span))
    parser.add_argument("--stretch", metavar="|".join(STRETCHES), help=say("command.map.stretch_word"))
    parser.add_argument("--open-strings", action="store_true", help=say("command.map.open_strings"))
    parser.add_argument("--second", type=whole_number, metavar="P", help=say("command.map.second"))
    parser.add_argument("--seam", metavar=say("metavar.written_note"), help=say("command.map.seam"))
    parser.add_argument("--capo", type=whole_number, metavar="N", help=say("command.map.capo"))
    parser.add_argument("--map", type=path_given, metavar=file, help=say("command.map.map"))


def asked_map(args: argparse.Namespace) -> AskedMap:
    """The map the words ask for: that of `--map`, else the one of a position, each other word counting before it.
    Raises `MapError` with all that is wrong with the words, the file of the map and the name of `--out`.
    """
    faults: list[Message] = []
    base = _base(args.map, faults)
    capo = _capo(args.capo, faults)
    tuning, wrong = (base.tuning, []) if base and args.tuning is None else tuning_from(args.tuning)
    faults += wrong
    neck = _Neck(
        tuning=tuning,
        frets=_frets(args.frets, base, capo, faults),
        reading=reading_from(args) or (base.reading if base else Reading.GUITAR),
    )
    position = (base.position if base else DEFAULT_POSITION) if args.position is None else args.position
    hand = _hand(args, base.hand if base else USUAL_HAND, faults)
    second = _second(args, base, neck, faults)
    if second is not None and second.position == position:
        faults.append(message("command.map.second_is_first", position=position))
    try:
        neck_map = standard_map(
            position=position,
            tuning=neck.tuning,
            frets=neck.frets,
            reading=neck.reading,
            choices=base.choices if base and not wrong else None,
            hand=hand,
            second=second,
        )
    except MapError as error:
        faults.append(error.message)
    faults += _faults_of_other_words(args)
    if faults:
        raise MapError("faults", faults=faults)
    if args.second is not None and args.seam is None:
        return AskedMap(neck_map=neck_map.remade(second=None), capo=capo, second=args.second)
    return AskedMap(neck_map=neck_map, capo=capo)


@dataclass(frozen=True, slots=True)
class _Neck:
    tuning: Tuning
    frets: int
    reading: Reading


def _base(path: Path | None, faults: list[Message]) -> NeckMap | None:
    if path is None:
        return None
    try:
        return read_map(path)
    except MapError as error:
        faults.append(error.message)
        return None


def _capo(given: int | None, faults: list[Message]) -> int:
    capo = given or 0
    if 0 <= capo <= HIGHEST_CAPO:
        return capo
    faults.append(message("command.take.capo_out_of_range", given=capo, highest=HIGHEST_CAPO))
    return 0


def _frets(given: int | None, base: NeckMap | None, capo: int, faults: list[Message]) -> int:
    """The frets from the capo on; a map in a file counts its own from there already."""
    if given is None and base is not None:
        return base.frets
    frets = DEFAULT_FRETS if given is None else given
    if not FEWEST_FRETS <= frets <= MAX_FRETS:
        return frets
    if frets - capo < FEWEST_FRETS:
        faults.append(message("command.map.capo_beyond", capo=capo, frets=frets, fewest=FEWEST_FRETS))
        return frets
    return frets - capo


def _hand(args: argparse.Namespace, usual: FrettingHand, faults: list[Message]) -> FrettingHand:
    word = args.stretch or stretch_word(usual)
    if word not in STRETCHES:
        faults.append(message("command.map.unknown_stretch", words=tuple(STRETCHES), given=word))
        word = stretch_word(usual)
    back, on = STRETCHES[word]
    span = usual.span if args.span is None else args.span
    return FrettingHand(span=span, back=back, on=on, open_strings=args.open_strings or usual.open_strings)


def _second(args: argparse.Namespace, base: NeckMap | None, neck: _Neck, faults: list[Message]) -> SecondRegion | None:
    """The second region; None where there is none. Its seam is the lowest of all where it makes no sense, or is left
    to the tunes.
    """
    own = base.second if base else None
    if args.seam is None and args.second is None:
        return own
    seam = None if args.seam is None else _seam(args.seam, neck, faults)
    position = args.second if args.second is not None else own.position if own else None
    if position is None:
        faults.append(message("command.map.seam_alone"))
        return None
    return SecondRegion(position=position, seam=min(neck.tuning.open_strings) if seam is None else seam)


def _seam(given: str, neck: _Neck, faults: list[Message]) -> int | None:
    try:
        written = pitch(given[:1].upper() + given[1:].replace("♯", "#").replace("♭", "b"))
    except ValueError:
        faults.append(message("command.map.seam_no_note", given=given))
        return None
    seam = seam_of(written, neck.reading)
    fault = seam_fault(seam, neck.tuning, neck.frets, neck.reading)
    if fault is not None:
        faults.append(fault)
    return seam


def _faults_of_other_words(args: argparse.Namespace) -> list[Message]:
    """What of the words does not go together, and what is wrong with the name of the file to write."""
    faults = []
    if args.best and not args.tunes:
        faults.append(message("command.map.best_of_nothing"))
    faults += [
        message("command.map.word_of_chart", word=f"--{word.replace('_', '-')}", endings=CHART_ENDINGS)
        for word in _OF_CHARTS
        if getattr(args, word) and not is_chart(args.out)
    ]
    return faults if args.out is None else faults + faults_of_name(args.out)
