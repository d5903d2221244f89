"""What is in the practice log, and what was gathered, as a JSON answer and in words."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from game.commands.answers.log_answer import GatheredAnswer, LogAnswer, LogDevice, LogPlayer
from game.message import Message, message, verbatim
from game.practice_log.back_ups.backup import checked_take_count
from game.practice_log.database.opening import opened_log
from game.practice_log.transfer.contents import ToldName
from game.practice_log.transfer.export import ExportPlan
from game.practice_log.transfer.gather import Gathered
from game.practice_log.transfer.log_summary import log_summary
from game.practice_log.transfer.told_contents import held_in_words
from game.text.catalogue import in_english

_SHORT_ID = 8
"""Digits of an id by which people tell devices without a name apart."""


def log_answer(log: Path) -> LogAnswer:
    """What is in a log by now. Raises `LogError` for one that cannot be read."""
    if not log.exists():
        return LogAnswer(log=str(log), takes=0)
    takes = checked_take_count(log)
    with opened_log(log) as connection:
        summary = log_summary(connection)
    player = summary.player
    return LogAnswer(
        log=str(log),
        takes=takes,
        player=None if player is None else LogPlayer(id=str(player.uuid), name=player.name),
        devices=tuple(LogDevice(id=one.uuid, name=one.name, takes=one.takes) for one in summary.devices),
        days=summary.days,
        first=summary.first,
        last=summary.last,
        notes=summary.notes,
        fingerprint=summary.fingerprint,
    )


def in_words(answer: LogAnswer) -> Iterator[Message]:
    """What is in a log, a line each."""
    yield message("command.log.takes", count=answer.takes, log=answer.log)
    if answer.player is None:
        return
    yield message("command.log.player", name=answer.player.name or verbatim(answer.player.id))
    if answer.first is not None and answer.last is not None:
        first, last = date.fromisoformat(answer.first), date.fromisoformat(answer.last)
        yield message("command.log.practised", count=answer.days, first=first, last=last, notes=answer.notes)
    devices = tuple(
        message("command.log.device", name=device.name or device.id[:_SHORT_ID], count=device.takes)
        for device in answer.devices
    )
    yield message("command.log.devices", count=len(devices), devices=devices)
    yield message("command.log.fingerprint", fingerprint=answer.fingerprint or "")


def export_in_words(plan: ExportPlan, out: Path) -> Iterator[Message]:
    """What an export would hold, a line each, before it is written."""
    told = ToldName(plan.contents.told_name)
    yield message("export.told.goes_into", file=out)
    yield message("export.told.takes", holds=held_in_words(plan.contents))
    if told is ToldName.WHOLE and plan.contents.player.name:
        yield message("export.told.name", name=plan.contents.player.name)
    elif told is ToldName.INITIALS and plan.contents.player.name:
        yield message("export.told.initials", name=plan.contents.player.name)
    else:
        yield message("export.told.machines" if told is ToldName.WHOLE else "export.told.no_name")
    yield message("export.told.music")
    if plan.has_assignments:
        yield message("export.told.assignments")
    yield message("export.told.open")


def gathered_answer(gathered: Gathered) -> GatheredAnswer:
    """What was gathered, for programs."""
    return GatheredAnswer(
        files=gathered.files,
        takes=gathered.came.takes,
        devices=len(gathered.devices),
        new=gathered.came.new["take"],
        new_entries=gathered.came.new.total(),
        faults=[in_english(fault) for fault in gathered.faults],
    )


def gathered_in_words(gathered: Gathered) -> Iterator[Message]:
    """How many takes came, of how many devices, and what of it was new; at the end what could not be read."""
    if gathered.came.holds:
        yield message(
            "command.log.gathered",
            count=gathered.came.takes,
            devices=message("command.log.of_devices", count=len(gathered.devices)),
            new=_news(gathered),
        )
    elif gathered.files:
        yield message("command.log.known_already")
    yield from gathered.faults


def _news(gathered: Gathered) -> Message:
    if gathered.came.new["take"]:
        return message("command.log.new_takes", count=gathered.came.new["take"])
    return message("command.log.other_news" if gathered.came.changed else "command.log.nothing_new")
