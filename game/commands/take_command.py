"""`homefret take`: judge a take recorded as a MIDI file against a score; or one that was practised, out of the log."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from game.commands.answers import add_json_flag, print_json, print_table
from game.commands.map_options import add_map_words, add_read_word, map_from, reading_from
from game.commands.practised_take import (
    add_kept_words,
    called,
    day_answer,
    hear,
    hear_kept,
    is_kept,
    kept_answer,
    kept_from,
    own_settings,
    print_day,
    write_kept,
)
from game.errors import TakeError
from game.instrument.decoding.decoded import dirt_in_words
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.take_file import read_take
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.graces import graces_before
from game.judging.octave import lowered, octaves_above
from game.judging.swing import STRAIGHT
from game.judging.timed import judge_timed, swing_of
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import bar_spans, timed_grid
from game.judging.untimed import judge_untimed
from game.judging.verdicts import Judgement, NoteVerdict, Summary, summary_of
from game.judging.version import JUDGE_VERSION
from game.music.passage import Passage, whole_tune
from game.music.written import written_out
from game.report.logged_take import making_sense
from game.tunes.read_tune import read_tune

STAGES = ("places", "rhythm", "time")


def add_parser(subparsers: Any) -> None:
    parser = subparsers.add_parser("take", help="judge a recorded take against a score, or hear one that was practised")
    parser.add_argument("file", type=Path, nargs="?", metavar="FILE", help="the tune")
    parser.add_argument("take", type=Path, nargs="?", metavar="TAKE.mid", help="what was played: channels are strings")
    parser.add_argument("--stage", choices=STAGES, default="places", help="what was asked of the player")
    parser.add_argument("--tempo", type=float, metavar="BPM", help="quarter notes a minute; timed stages need it")
    parser.add_argument("--swing", type=float, default=STRAIGHT, metavar="R", help="long:short of written eighths (1)")
    parser.add_argument("--keyboard", action="store_true", help="no strings: judge pitch only")
    parser.add_argument("--unfiltered", action="store_true", help="take every note, ghosts and flickers too")
    parser.add_argument("--part", type=int, metavar="N", help="part of the score, from 1")
    add_map_words(parser)
    add_read_word(parser)
    add_json_flag(parser)
    add_kept_words(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Judge the take and say what was made of it; raises `HomefretError` for what the user can mend."""
    if is_kept(args):
        return _kept(args)
    _check(args)
    score = read_tune(args.file, part=args.part, read=reading_from(args))
    neck_map = map_from(args, score.reading)
    passage = whole_tune(written_out(score))
    expected = expected_notes(passage.notes, neck_map)
    recorded = read_take(
        args.take,
        tuning=neck_map.tuning,
        frets=neck_map.frets,
        keyboard=args.keyboard,
        filtered=not args.unfiltered,
    )
    played: Sequence[PlayedNote] = recorded.notes
    warnings: list[str] = []
    if args.keyboard:
        played, warnings = _at_their_octave(played, expected)
    if sum(recorded.dirt.values()):
        warnings.append(f"Held to be dirt of the pickup: {dirt_in_words(recorded.dirt)} (--unfiltered takes all).")
    if args.stage == "places":
        judgement, swing = judge_untimed(expected, played), None
    else:
        judgement, swing = _timed(args, passage, expected, played)
    answer = take_answer(judgement, expected, started_s=0.0)
    answer |= {"stage": args.stage, "swing": None if swing is None else round(swing, 3), "warnings": warnings}
    if args.hear:
        warnings += [said] if (said := hear(recorded.notes, own_settings(args))) else []
    return _told(args, answer)


def _kept(args: argparse.Namespace) -> int:
    """A take that was practised: as it was judged then. Without a number, the takes of the day."""
    if args.number is None:
        day = day_answer(args)
        print_json(day) if args.json else print_day(day)
        return 0
    kept = kept_from(args)
    with making_sense(args.source):
        answer = take_answer(kept.judgement, kept.numbered.logged.begun.asked.notes, started_s=0.0) | kept_answer(kept)
    warnings = [] if args.out is None else write_kept(kept, args.out)
    warnings += hear_kept(kept, args) if args.hear else []
    answer |= {"file": str(args.out) if args.out else None, "warnings": warnings}
    if not args.json:
        print(called(kept))
    _told(args, answer)
    if args.out and not args.json:
        print(f"Written to {args.out}")
    return 0


def _told(args: argparse.Namespace, answer: dict[str, Any]) -> int:
    if args.json:
        print_json(answer)
    else:
        _print_for_people(answer)
    return 0


def _check(args: argparse.Namespace) -> None:
    if args.file is None or args.take is None:
        raise TakeError("command.take_needs_tune_what")
    if args.stage != "places" and args.tempo is None:
        raise TakeError("command.take_stage_needs_tempo", stage=args.stage)
    if args.stage == "places" and args.tempo is not None:
        raise TakeError("command.stage_places_clock_leave")


def _timed(
    args: argparse.Namespace, passage: Passage, expected: Sequence[ExpectedNote], played: Sequence[PlayedNote]
) -> tuple[Judgement, float | None]:
    """Time 0 of the MIDI file is onset 0 of the score. Returns the player's own long:short, too."""
    grid = timed_grid(passage.notes, tempo_bpm=args.tempo, spans=bar_spans(passage.bars), swing=args.swing)
    graces = graces_before(passage.bars, passage.notes, passage.reading)
    rules = TimedRules(pitch_counts=args.stage == "time", graces=graces)
    judgement = judge_timed(expected, played, grid, rules)
    return judgement, swing_of(judgement, grid)


def take_answer(judgement: Judgement, expected: tuple[ExpectedNote, ...], *, started_s: float) -> dict[str, Any]:
    """A judged take as the `take` command answers it: design contract, see content/schemas/take.schema.json."""
    return {
        "judge_version": JUDGE_VERSION,
        "verdicts": [_verdict_answer(verdict) for verdict in judgement.verdicts],
        "extra": [{"played": note.sounding, "time_ms": _ms(note.started_s - started_s)} for note in judgement.extra],
        "events": [
            {"kind": event.kind.value, "n": event.n, "time_ms": round(event.time_ms, 1)} for event in judgement.events
        ],
        "summary": _summary_answer(summary_of(judgement, expected)),
    }


def _verdict_answer(verdict: NoteVerdict) -> dict[str, Any]:
    first = verdict.first
    place = first.place if first else None
    return {
        "n": verdict.n,
        "verdict": verdict.verdict.value,
        "octave_off": verdict.octave_off,
        "cause": verdict.cause.value if verdict.cause else None,
        "played": first.sounding if first else None,
        "string": place.string if place else None,
        "fret": place.fret if place else None,
        "offset_ms": None if verdict.offset_ms is None else round(verdict.offset_ms, 1),
        "time_to_find_ms": None if verdict.time_to_find_ms is None else round(verdict.time_to_find_ms, 1),
        "tries": len(verdict.answers),
        "answers": [answer.sounding for answer in verdict.answers],
    }


def _summary_answer(summary: Summary) -> dict[str, Any]:
    counts: dict[str, Any] = {verdict.value: count for verdict, count in summary.counts.items()}
    return counts | {
        "clean_share": None if summary.clean_share is None else round(summary.clean_share, 4),
        "bias_ms": None if summary.bias_ms is None else round(summary.bias_ms, 1),
        "spread_ms": None if summary.spread_ms is None else round(summary.spread_ms, 1),
        "kept_going": summary.kept_going,
    }


def _at_their_octave(
    played: Sequence[PlayedNote], expected: Sequence[ExpectedNote]
) -> tuple[Sequence[PlayedNote], list[str]]:
    """A keyboard player may read the page as it stands, an octave above the guitar: the first notes tell."""
    octaves = octaves_above([note.sounding for note in expected], [note.sounding for note in played])
    if not octaves:
        return played, []
    return lowered(played, octaves), [
        f"The keyboard was played {octaves} octave{'s' if octaves > 1 else ''} above the sounding pitch: judged there."
    ]


def _ms(seconds: float) -> float:
    return round(seconds * 1000, 1)


def _print_for_people(answer: dict[str, Any]) -> None:
    columns = ("n", "verdict", "played", "string", "fret", "cause", "tries", "time_to_find_ms")
    print_table(columns, ([verdict[column] for column in columns] for verdict in answer["verdicts"]))
    share = answer["summary"]["clean_share"]
    print(f"Clean: {share:.0%} of the notes with a home that were read." if share is not None else "Nothing was read.")
    if answer["extra"]:
        print(f"Extra: {len(answer['extra'])} played notes answer nothing.")
    for warning in answer["warnings"]:
        print(warning)
