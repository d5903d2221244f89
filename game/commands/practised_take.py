"""The other half of `homefret take`: what was practised, out of the log or a student's export: the takes of a day, and
one of them judged, heard, written as a MIDI file.
"""

import argparse
import time
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import replace
from pathlib import Path
from typing import Any

from game.clock import Clock, SystemClock
from game.commands.answers.take_answer import DayAnswer, TakeOfADay, TakeOfALog
from game.commands.day_option import day_given
from game.commands.number_option import whole_number
from game.commands.path_option import path_given
from game.commands.player_option import add_player_word, player_from
from game.commands.printing import print_table
from game.errors import TakeError
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.take_file import write_take
from game.lines.titles import title_told
from game.message import Message, message
from game.paths import write_whole_file
from game.player.settings import Settings
from game.player.settings_file import load_or_defaults
from game.report import figure_words
from game.report.logged_take import (
    PlayersLog,
    ReplayedTake,
    TakeOfDay,
    own_takes,
    replayed_take,
    takes_handed_over,
    takes_on,
)
from game.report.numbered import NumberedTake
from game.text.catalogue import in_figures, say, tell

_FRAME_S = 1 / 60
_UNHEARD = {
    "NO_DEVICE": message("command.take.nothing_heard"),
    "SILENT_DRIVER": message("command.take.nothing_heard"),
    "LOST": message("command.take.rest_not_heard"),
}


def add_practised_words(parser: argparse.ArgumentParser) -> None:
    """`--day --number --from --hear --out --player`."""
    kept = parser.add_argument_group(say("command.take.practised"))
    packed, played = (say("metavar.file_of_kind", ending=ending) for ending in (".zip", ".mid"))
    kept.add_argument("--day", type=day_given, metavar=say("metavar.day"), help=say("command.take.day"))
    kept.add_argument("--number", type=whole_number, metavar="N", help=say("command.take.number"))
    kept.add_argument("--from", dest="source", type=path_given, metavar=packed, help=say("command.take.from"))
    kept.add_argument("--out", type=path_given, metavar=played, help=say("command.take.out"))
    kept.add_argument("--hear", action="store_true", help=say("command.take.hear"))
    add_player_word(kept)


def is_kept(args: argparse.Namespace) -> bool:
    """Whether a practised take is meant. Raises `TakeError` where words for files and for the log are mixed."""
    wanted = args.day is not None or args.number is not None or args.source is not None
    if wanted and args.file is not None:
        raise TakeError("command.take.files_and_day")
    if wanted and args.day is None:
        raise TakeError("command.take.day_missing")
    if wanted and args.number is None and (args.hear or args.out):
        raise TakeError("command.take.number_missing")
    if not wanted and args.out is not None:
        raise TakeError("command.take.out_without_day")
    return wanted


def practised_take(args: argparse.Namespace) -> ReplayedTake:
    """The take that the words name. Raises `LogError`."""
    with _takes(args) as found:
        return replayed_take(found, args.day, args.number)


def day_answer(args: argparse.Namespace) -> DayAnswer:
    """The takes of a day, so that one can be chosen. Raises `LogError`."""
    with _takes(args) as found:
        return DayAnswer(takes=[_listed(take) for take in takes_on(found, args.day)])


def print_day(answer: DayAnswer) -> None:
    """The takes of a day for people."""
    print_table(("number", "title", "bars", "stage", "tempo", "clean"), map(_row, answer.takes))


def _row(take: TakeOfADay) -> tuple[object, ...]:
    tempo = None if take.tempo is None else in_figures(take.tempo)
    clean = None if take.clean_share is None else in_figures(take.clean_share, ".0%")
    return (
        take.number,
        tell(title_told(take.title)),
        "-".join(take.bars),
        say(f"stage.{take.stage.value}"),
        tempo,
        clean,
    )


def _takes(args: argparse.Namespace) -> AbstractContextManager[PlayersLog]:
    if args.source is not None:
        return takes_handed_over(args.source)
    player = player_from(args)
    return own_takes(player.log_path, player.name)


def _listed(take: TakeOfDay) -> TakeOfADay:
    share = take.clean_share
    return TakeOfADay(**_named(take.numbered), clean_share=None if share is None else round(share, 4))


def _named(take: NumberedTake) -> dict[str, Any]:
    """Which take it was and what was asked."""
    begun = take.logged.begun
    return {
        "day": take.day.isoformat(),
        "number": take.number,
        "title": begun.bars.title,
        "bars": [begun.bars.first, begun.bars.last],
        "stage": begun.terms.stage,
        "tempo": begun.terms.tempo_bpm,
        "sighting": begun.sighting.nth,
    }


def named_practised(kept: ReplayedTake) -> TakeOfALog:
    """Which take it was and on what terms."""
    return TakeOfALog(**_named(kept.numbered), notes=len(kept.raw.played))


def called(kept: ReplayedTake) -> Message:
    """The take as people call it."""
    bars = kept.numbered.logged.begun.bars
    return message(
        "command.take.called",
        number=kept.numbered.number,
        day=kept.numbered.day,
        title=title_told(bars.title),
        bars=figure_words.bars_said(bars.first, bars.last),
    )


def write_kept(kept: ReplayedTake, out: Path) -> list[Message]:
    """Write what was played as a MIDI file, a channel a string, time 0 where the take's own is. Returns warnings: notes
    played before time 0 put it later. Raises `TakeError` for a take without notes or a file that cannot be written.
    """
    if out.suffix.lower() not in (".mid", ".midi"):
        raise TakeError("command.take.no_midi_ending", out=out)
    if out.exists() and not _is_midi(out):
        raise TakeError("command.take.file_is_no_midi", out=out)
    played = _played(kept)
    early_s = -min(0.0, *(note.started_s for note in played))
    write_take(out, [replace(note, started_s=note.started_s + early_s) for note in played], write_whole_file)
    if not early_s:
        return []
    return [message("command.take.begun_early", early_s=early_s)]


def hear(
    notes: Sequence[PlayedNote],
    settings: Settings,
    *,
    clock: Clock | None = None,
    pause: Callable[[float], None] = time.sleep,
) -> list[Message]:
    """Play notes aloud with their own times, from the first, and wait for their end. Returns a warning where nothing,
    or not all of it, is heard.
    """
    from game.audio.output import SoundStatus  # noqa: PLC0415
    from game.audio.played_line import PlayedLine, SoundedNote  # noqa: PLC0415 - brings numpy and the mixer
    from game.audio.sound import open_sound  # noqa: PLC0415

    begun_s = notes[0].started_s
    line = tuple(
        SoundedNote(onset_s=note.started_s - begun_s, sounding=note.sounding, velocity=note.velocity) for note in notes
    )
    sound, clock = open_sound(settings.volumes), clock or SystemClock()
    sound.play((PlayedLine(notes=line),), clock)
    while sound.strings.playing:
        pause(_FRAME_S)
        sound.tick(clock.now_s())
    unheard = _UNHEARD.get(SoundStatus(sound.strings.status).name)
    return [unheard] if unheard else []


def hear_kept(kept: ReplayedTake, args: argparse.Namespace) -> list[Message]:
    """Play the take aloud at the player's volume. Returns warnings."""
    return hear(_played(kept), own_settings(args))


def own_settings(args: argparse.Namespace) -> Settings:
    """The player's settings; those that cannot be read are no reason to hear nothing."""
    return load_or_defaults(player_from(args).settings_path).settings


def _played(kept: ReplayedTake) -> tuple[PlayedNote, ...]:
    if not kept.raw.played:
        raise TakeError("command.take.marked_by_the_player", called=called(kept))
    return tuple(sorted(kept.raw.played, key=lambda note: note.started_s))


def _is_midi(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return file.read(4) == b"MThd"
    except OSError:
        return False
