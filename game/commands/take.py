"""`homefret take`: judge a take recorded as a MIDI file against a score."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from game.commands.answers import add_json_flag, print_json, print_table
from game.commands.map_words import add_map_words, add_read_word, map_from, reading_from
from game.instrument.midifile import read_take
from game.instrument.played import PlayedNote
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.octave import lowered, octaves_above
from game.judging.untimed import judge_untimed
from game.judging.verdicts import Judgement, NoteVerdict, Summary, summary_of
from game.judging.version import JUDGE_VERSION
from game.music.written import written_notes, written_out
from game.tunes.reading import read_tune


def add_parser(subparsers: Any) -> None:
    parser = subparsers.add_parser("take", help="judge a recorded take against a score")
    parser.add_argument("file", type=Path, metavar="FILE", help="the tune")
    parser.add_argument(
        "take", type=Path, metavar="TAKE.mid", help="what was played: channels 1 to 6 are strings 1 to 6"
    )
    parser.add_argument("--stage", choices=["places"], default="places", help="what was asked of the player")
    parser.add_argument("--keyboard", action="store_true", help="no strings: judge pitch only")
    parser.add_argument("--part", type=int, metavar="N", help="part of the score, from 1")
    add_map_words(parser)
    add_read_word(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    score = read_tune(args.file, part=args.part, read=reading_from(args))
    neck_map = map_from(args, score.reading)
    expected = expected_notes(written_notes(written_out(score).bars, score.reading), neck_map)
    played: Sequence[PlayedNote] = read_take(
        args.take, tuning=neck_map.tuning, frets=neck_map.frets, keyboard=args.keyboard
    )
    warnings: list[str] = []
    if args.keyboard:
        played, warnings = _at_their_octave(played, expected)
    judgement = judge_untimed(expected, played)
    answer = take_answer(judgement, expected, started_s=0.0) | {"stage": args.stage, "warnings": warnings}
    if args.json:
        print_json(answer)
    else:
        _print_for_people(answer)
    return 0


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
