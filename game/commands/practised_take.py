"""The other half of `homefret take`: what was practised, out of the log or a student's export: the takes of a day, and
one of them judged, heard, written as a MIDI file.
"""

import argparse
import time
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from game.clock import Clock, SystemClock
from game.commands.answers import print_table
from game.commands.player_option import add_player_word, player_from
from game.errors import SettingsError, TakeError
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.take_file import write_take
from game.player import settings as game_settings
from game.player.settings import Settings
from game.report import figure_words
from game.report.logged_take import (
    PlayersLog,
    ReplayedTake,
    TakeOfDay,
    kept_take,
    own_takes,
    takes_handed_over,
    takes_on,
)
from game.report.numbered import NumberedTake

_FRAME_S = 1 / 60
_NOTHING_HEARD = "Nothing was heard: there is no sound device (--out writes the take as a MIDI file)."
_UNHEARD = {
    "NO_DEVICE": _NOTHING_HEARD,
    "SILENT_DRIVER": _NOTHING_HEARD,
    "LOST": "The sound device was taken away: the rest was not heard.",
}


def add_kept_words(parser: argparse.ArgumentParser) -> None:
    """`--day --number --from --hear --out --player`."""
    kept = parser.add_argument_group("a take that was practised, instead of files")
    kept.add_argument("--day", type=_day, metavar="DAY", help="when it was played, such as 2026-11-14")
    kept.add_argument("--number", type=int, metavar="N", help="the how-manieth take of that day, as the report says")
    kept.add_argument("--from", dest="source", type=Path, metavar="FILE.zip", help="a student's export (your own log)")
    kept.add_argument("--out", type=Path, metavar="FILE.mid", help="write what was played, with its own times")
    kept.add_argument("--hear", action="store_true", help="play it aloud")
    add_player_word(kept)  # type: ignore[arg-type]  # a group takes words as a parser does


def is_kept(args: argparse.Namespace) -> bool:
    """Whether a practised take is meant. Raises `TakeError` where words for files and for the log are mixed."""
    wanted = args.day is not None or args.number is not None or args.source is not None
    if wanted and args.file is not None:
        raise TakeError("command.take_named_files_day")
    if wanted and args.day is None:
        raise TakeError("command.which_take_give_day")
    if wanted and args.number is None and (args.hear or args.out):
        raise TakeError("command.which_take_day_give")
    if not wanted and args.out is not None:
        raise TakeError("command.out_writes_take_practised")
    return wanted


def kept_from(args: argparse.Namespace) -> ReplayedTake:
    """The take that the words name. Raises `LogError`."""
    with _takes(args) as found:
        return kept_take(found, args.day, args.number)


def day_answer(args: argparse.Namespace) -> dict[str, Any]:
    """The takes of a day, so that one can be chosen. Raises `LogError`."""
    with _takes(args) as found:
        return {"takes": [_listed(take) for take in takes_on(found, args.day)]}


def print_day(answer: dict[str, Any]) -> None:
    """The takes of a day for people."""
    columns = ("number", "title", "bars", "stage", "tempo", "clean")
    rows = []
    for take in answer["takes"]:
        share = take["clean_share"]
        clean = None if share is None else f"{share:.0%}"
        rows.append((take["number"], take["title"], "-".join(take["bars"]), take["stage"], take["tempo"], clean))
    print_table(columns, rows)


def _takes(args: argparse.Namespace) -> AbstractContextManager[PlayersLog]:
    if args.source is not None:
        return takes_handed_over(args.source)
    from game.player.player_log import LOG_FILE  # noqa: PLC0415 - a tenth of a second that judging files can do without

    player = player_from(args)
    return own_takes(player.folder / LOG_FILE, player.name)


def _listed(take: TakeOfDay) -> dict[str, Any]:
    share = take.clean_share
    named = _named(take.numbered)
    return named | {"clean_share": None if share is None else round(share, 4)}


def _named(take: NumberedTake) -> dict[str, Any]:
    """Which take it was and what was asked."""
    begun = take.logged.begun
    return {
        "day": take.day.isoformat(),
        "number": take.number,
        "title": begun.bars.title,
        "bars": [begun.bars.first, begun.bars.last],
        "stage": begun.terms.stage.value,
        "tempo": begun.terms.tempo_bpm,
        "sighting": begun.sighting.nth,
    }


def kept_answer(kept: ReplayedTake) -> dict[str, Any]:
    """Which take it was and on what terms."""
    return {
        "judge_version": kept.judge,
        "stage": kept.numbered.logged.begun.terms.stage.value,
        "swing": None,
        "take": _named(kept.numbered) | {"notes": len(kept.raw.played)},
    }


def called(kept: ReplayedTake) -> str:
    """The take as people call it."""
    bars = kept.numbered.logged.begun.bars
    where = f"{bars.title}, {figure_words.bars_said(bars.first, bars.last)}"
    return f"Take {kept.numbered.number} of {figure_words.day_said(kept.numbered.day)}: {where}"


def write_kept(kept: ReplayedTake, out: Path) -> list[str]:
    """Write what was played as a MIDI file, a channel a string, time 0 where the take's own is. Returns warnings: notes
    played before time 0 put it later. Raises `TakeError` for a take without notes or a file that cannot be written.
    """
    if out.suffix.lower() not in (".mid", ".midi"):
        raise TakeError("command.take_written_midi_file", out=out)
    if out.exists() and not _is_midi(out):
        raise TakeError("command.already_midi_file_name", out=out)
    played = _played(kept)
    early_s = -min(0.0, *(note.started_s for note in played))
    write_take(out, [replace(note, started_s=note.started_s + early_s) for note in played])
    if not early_s:
        return []
    return [f"It was begun before the beat: time 0 of the take is {early_s:.3f} s into the file."]


def hear(
    notes: Sequence[PlayedNote],
    settings: Settings,
    *,
    clock: Clock | None = None,
    pause: Callable[[float], None] = time.sleep,
) -> str:
    """Play notes aloud with their own times, from the first, and wait for their end. Returns a sentence where nothing
    is heard, otherwise "".
    """
    from game.audio.output import SoundStatus  # noqa: PLC0415
    from game.audio.played_line import Line, SoundedNote  # noqa: PLC0415 - brings numpy and the mixer
    from game.audio.sound import open_sound  # noqa: PLC0415

    begun_s = notes[0].started_s
    line = tuple(
        SoundedNote(onset_s=note.started_s - begun_s, sounding=note.sounding, velocity=note.velocity) for note in notes
    )
    sound, clock = open_sound(settings.volume), clock or SystemClock()
    sound.play((Line(notes=line),), clock)
    while sound.strings.playing:
        pause(_FRAME_S)
        sound.tick(clock.now_s())
    return _UNHEARD.get(SoundStatus(sound.strings.status).name, "")


def hear_kept(kept: ReplayedTake, args: argparse.Namespace) -> list[str]:
    """Play the take aloud at the player's volume. Returns warnings."""
    said = hear(_played(kept), own_settings(args))
    return [said] if said else []


def own_settings(args: argparse.Namespace) -> Settings:
    """The player's settings; those that cannot be read are no reason to hear nothing."""
    try:
        return game_settings.load(player_from(args).settings_path)
    except SettingsError:
        return Settings()


def _played(kept: ReplayedTake) -> tuple[PlayedNote, ...]:
    if not kept.raw.played:
        raise TakeError("command.holds_played_notes_marked", called=called(kept))
    return tuple(sorted(kept.raw.played, key=lambda note: note.started_s))


def _is_midi(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return file.read(4) == b"MThd"
    except OSError:
        return False


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no day: write it as 2026-11-14") from None
