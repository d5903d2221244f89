"""`homefret take`: judge a take recorded as a MIDI file, or as sound, against a score; or one that was practised, out
of the log.
"""

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from msgspec import UNSET

from game.coach.stages import Stage
from game.commands.answers.take_answer import TakeAnswer
from game.commands.map_options import add_map_words, add_read_word, map_from, reading_from
from game.commands.number_option import number, whole_number
from game.commands.path_option import path_given
from game.commands.practised_take import (
    add_practised_words,
    called,
    day_answer,
    hear,
    hear_kept,
    is_kept,
    named_practised,
    own_settings,
    practised_take,
    print_day,
    write_kept,
)
from game.commands.printing import add_json_flag, print_json
from game.commands.sound_take import (
    begins_late,
    ending_warnings,
    heard_sound,
    heard_take,
    is_recording,
    sound_warnings,
)
from game.commands.take_verdicts import judged_fields, print_judged
from game.errors import TakeError
from game.instrument.decoding.capo import note_as_fingered
from game.instrument.decoding.decoded import dirt_told
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.heard_recording import HeardRecording
from game.instrument.sources.take_file import read_take
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.graces import graces_before
from game.judging.octave import lowered, octaves_above
from game.judging.swing import STRAIGHT
from game.judging.timed import judge_timed, swing_of
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import TimedGrid, bar_spans, timed_grid
from game.judging.untimed import judge_untimed
from game.judging.verdicts import Judgement, Verdict
from game.judging.version import JUDGE_VERSION
from game.message import Message, message
from game.music.at_reading import at_reading
from game.music.passage import Passage, whole_tune
from game.music.written import written_out
from game.neck.neck_map import NeckMap
from game.neck.tuning import HIGHEST_CAPO
from game.report.logged_take import making_sense
from game.text.catalogue import in_english, say, tell
from game.tunes.read_tune import read_tune

STAGES = ("places", "rhythm", "time")


@dataclass(frozen=True, slots=True, kw_only=True)
class _GivenTake:
    """What a file says was played; `recording` where it is one of sound."""

    notes: Sequence[PlayedNote]
    warnings: Sequence[Message]
    recording: HeardRecording | None = None


def add_parser(subparsers: Any) -> None:
    """Add `take` and its words to the program's commands."""
    parser = subparsers.add_parser("take", help=say("command.take.summary"))
    take = say("metavar.take_file", ending=".mid")
    parser.add_argument("file", type=path_given, nargs="?", metavar=say("metavar.file"), help=say("command.take.file"))
    parser.add_argument("take", type=path_given, nargs="?", metavar=take, help=say("command.take.take"))
    parser.add_argument("--stage", choices=STAGES, default="places", help=say("command.take.stage"))
    parser.add_argument("--tempo", type=number, metavar="BPM", help=say("command.take.tempo"))
    parser.add_argument("--swing", type=number, default=STRAIGHT, metavar="R", help=say("command.take.swing"))
    parser.add_argument("--input-channel", type=whole_number, metavar="C", help=say("command.take.input_channel"))
    parser.add_argument("--keyboard", action="store_true", help=say("command.take.keyboard"))
    parser.add_argument("--unfiltered", action="store_true", help=say("command.take.unfiltered"))
    parser.add_argument("--part", type=whole_number, metavar="N", help=say("command.take.part"))
    add_map_words(parser)
    parser.add_argument("--capo", type=whole_number, default=0, metavar="N", help=say("command.take.capo"))
    add_read_word(parser)
    add_json_flag(parser)
    add_practised_words(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Judge the take and say what was made of it; raises `HomefretError` for what the user can mend."""
    if is_kept(args):
        return _kept(args)
    _check(args)
    score = read_tune(args.file, part=args.part, read=reading_from(args))
    neck_map = map_from(args, reading_from(args) or score.reading)
    if args.capo:
        neck_map = neck_map.remade(frets=neck_map.frets - args.capo)
    score = at_reading(score, neck_map.reading, neck_map.places)
    passage = whole_tune(written_out(score))
    expected = expected_notes(passage.notes, neck_map)
    given = _recording(args, neck_map) if is_recording(args.take) else _midi(args, neck_map, expected)
    warnings = list(given.warnings)
    if args.stage == "places":
        judgement, swing = judge_untimed(expected, given.notes), None
    else:
        grid = _grid(args, passage)
        judgement, swing = _timed(args.stage, passage, expected, given.notes, grid)
        if given.recording:
            warnings += begins_late(given.recording, grid.onsets_s, grid.beats_s)
    if args.hear and given.notes:
        warnings += hear(given.notes, own_settings(args))
    if args.json:
        print_json(
            TakeAnswer(
                **judged_fields(judgement, expected, judge=JUDGE_VERSION),
                stage=Stage(args.stage),
                swing=None if swing is None else round(swing, 3),
                sound=heard_sound(given.recording) if given.recording else UNSET,
                warnings=[in_english(warning) for warning in (*_unsure(judgement), *warnings)],
            )
        )
    else:
        print_judged(judgement, expected, warnings)
    return 0


def _unsure(judgement: Judgement) -> list[Message]:
    """People are told so beside the counts."""
    count = sum(verdict.verdict is Verdict.UNSURE for verdict in judgement.verdicts)
    return [message("unsure.do_not_count", count=count)] if count else []


def _midi(args: argparse.Namespace, neck_map: NeckMap, expected: Sequence[ExpectedNote]) -> _GivenTake:
    recorded = read_take(
        args.take,
        tuning=neck_map.tuning.raised(args.capo),
        frets=neck_map.frets,
        keyboard=args.keyboard,
        filtered=not args.unfiltered,
    )
    notes = _as_fingered(recorded.notes, args)
    played, warnings = _at_their_octave(notes, expected) if args.keyboard else (notes, [])
    if sum(recorded.dirt.values()):
        warnings.append(message("command.take.dirt", dirt=dirt_told(recorded.dirt)))
    return _GivenTake(notes=played, warnings=[*ending_warnings(args.take, "MIDI"), *warnings])


def _recording(args: argparse.Namespace, neck_map: NeckMap) -> _GivenTake:
    recording = heard_take(args.take, args.input_channel, lowest_string=min(neck_map.tuning.open_strings) + args.capo)
    notes = _as_fingered(recording.notes, args)
    return _GivenTake(notes=notes, warnings=sound_warnings(recording, args.take), recording=recording)


def _as_fingered(notes: Sequence[PlayedNote], args: argparse.Namespace) -> list[PlayedNote]:
    """The notes as they were fingered from the capo: its frets are counted from there already."""
    return [note_as_fingered(note, args.capo) for note in notes]


def _kept(args: argparse.Namespace) -> int:
    """A take that was practised: as it was judged then. Without a number, the takes of the day."""
    if args.number is None:
        day = day_answer(args)
        print_json(day) if args.json else print_day(day)
        return 0
    kept = practised_take(args)
    begun = kept.numbered.logged.begun
    expected, free_on = begun.asked.notes, begun.free_on
    with making_sense(args.source):
        judged = judged_fields(kept.judgement, expected, judge=kept.judge, free_on=free_on)
        named = named_practised(kept)
    warnings = [] if args.out is None else write_kept(kept, args.out)
    warnings += hear_kept(kept, args) if args.hear else []
    if args.json:
        print_json(
            TakeAnswer(
                **judged,
                stage=named.stage,
                swing=None,
                take=named,
                file=str(args.out) if args.out else None,
                warnings=[in_english(warning) for warning in warnings],
            )
        )
        return 0
    print(tell(called(kept)))
    print_judged(kept.judgement, expected, warnings, free_on=free_on)
    if args.out:
        print(say("command.take.written", out=args.out))
    return 0


def _check(args: argparse.Namespace) -> None:
    if args.file is None or args.take is None:
        raise TakeError("command.take.files_missing")
    if args.stage != "places" and args.tempo is None:
        raise TakeError("command.take.tempo_missing", stage=args.stage)
    if args.stage == "places" and args.tempo is not None:
        raise TakeError("command.take.places_without_clock")
    if not 0 <= args.capo <= HIGHEST_CAPO:
        raise TakeError("command.take.capo_out_of_range", given=args.capo, highest=HIGHEST_CAPO)
    if args.capo and args.keyboard:
        raise TakeError("command.take.capo_of_keyboard")
    if not is_recording(args.take):
        if args.input_channel is not None:
            raise TakeError("command.take.channel_of_midi", file=args.take)
        return
    for word in ("keyboard", "unfiltered"):
        if getattr(args, word):
            raise TakeError("command.take.word_for_midi", word=f"--{word}", file=args.take)


def _grid(args: argparse.Namespace, passage: Passage) -> TimedGrid:
    """Time 0 of the file is onset 0 of the score."""
    return timed_grid(passage.notes, tempo_bpm=args.tempo, spans=bar_spans(passage.bars), swing=args.swing)


def _timed(
    stage: str,
    passage: Passage,
    expected: Sequence[ExpectedNote],
    played: Sequence[PlayedNote],
    grid: TimedGrid,
) -> tuple[Judgement, float | None]:
    """Returns the player's own long:short, too."""
    graces = graces_before(passage.bars, passage.notes, passage.reading)
    rules = TimedRules(pitch_counts=stage == "time", graces=graces)
    judgement = judge_timed(expected, played, grid, rules)
    return judgement, swing_of(judgement, grid)


def _at_their_octave(
    played: Sequence[PlayedNote], expected: Sequence[ExpectedNote]
) -> tuple[Sequence[PlayedNote], list[Message]]:
    """A keyboard player may read the page as it stands, an octave above the guitar: the first notes tell."""
    octaves = octaves_above([note.sounding for note in expected], [note.sounding for note in played])
    if not octaves:
        return played, []
    return lowered(played, octaves), [message("command.take.octaves_above", count=octaves)]
