"""The settings in their file, one for each player: readable JSON, put right where it is faulty, all its faults
told at once.
"""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, TypeGuard

import msgspec
from msgspec.inspect import StructType, type_info

from game.errors import SettingsError, reason_of
from game.player.file_faults import LEFT_OUT, AnyFault, At, Fault
from game.player.json_file import JsonFileError, read_table, with_unknown, write_table
from game.player.setting_rules import within_rules
from game.player.settings import Settings
from game.player.usual_note_names import usual_note_names

# What fits into the one line that a screen has for it.
_MOST_TOLD_ON_SCREEN = 3
_VOLUMES_SINCE = ("guitar_volume", "accompaniment_volume")


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedSettings:
    """Settings that can be used, and the `faults` of their file: what was out of bounds is put right, what was of
    another kind is as it is at first. `unread` says why nothing of it could be read.
    """

    settings: Settings
    path: Path
    faults: tuple[AnyFault, ...] = ()
    unread: SettingsError | None = None

    @property
    def trouble(self) -> SettingsError | None:
        """What was put right, in one sentence for whoever goes on; None where nothing was."""
        if self.unread or not self.faults:
            return self.unread
        told = tuple(fault.mended for fault in self.faults[:_MOST_TOLD_ON_SCREEN])
        more = sum(fault.count for fault in self.faults[_MOST_TOLD_ON_SCREEN:])
        key = "player.settings_put_right_and_more" if more else "player.settings_put_right"
        return SettingsError(key, faults=told, count=more)

    def without_faults(self) -> Settings:
        """The settings, where they need no mending. Raises `SettingsError` with every fault."""
        if self.unread:
            raise self.unread
        if self.faults:
            raise SettingsError(
                "player.settings_have_faults", file=self.path, faults=tuple(fault.told for fault in self.faults)
            )
        return self.settings


def load(path: Path) -> LoadedSettings:
    """The settings in `path`, which stays as it is; defaults when there is no file. Raises `SettingsError` for a file
    that cannot be read or holds no JSON.
    """
    try:
        table = read_table(path)
    except FileNotFoundError:
        return LoadedSettings(settings=_at_first(), path=path)
    except OSError as error:
        raise SettingsError("player.settings_unreadable", file=path, reason=reason_of(error)) from error
    except JsonFileError as error:
        raise SettingsError("player.settings_no_sense", file=path, fault=error) from error
    fields, faults = _within_bounds(_with_volumes_apart(table))
    if "note_names" not in table:
        fields = msgspec.structs.replace(fields, note_names=usual_note_names(fields.language))
    settings, broken = within_rules(fields)
    return LoadedSettings(settings=settings, path=path, faults=_one_for_each_place(faults, broken))


def _at_first() -> Settings:
    """The settings of whoever has chosen nothing yet."""
    return Settings(note_names=usual_note_names())


def _with_volumes_apart(table: dict[str, Any]) -> dict[str, Any]:
    """Files of before have one volume for everything: whoever had turned it down is not to be startled."""
    volume = table.get("volume")
    if isinstance(volume, bool) or not isinstance(volume, int | float) or not 0 <= volume <= 1:
        return table
    return dict.fromkeys(_VOLUMES_SINCE, volume) | table


def _within_bounds(table: dict[str, Any]) -> tuple[Settings, list[AnyFault]]:
    """What a table holds, put right where it has to be, and the faults there were. Most tables have none, and the first
    frame waits for no more than that.
    """
    try:
        return msgspec.convert(table, Settings, str_keys=True), []
    except msgspec.ValidationError:
        from game.player.field_checks import Checks  # noqa: PLC0415

        checks = Checks()
        return msgspec.convert(checks.struct(_declared(), table), Settings), checks.faults


def load_or_defaults(path: Path) -> LoadedSettings:
    """The settings in `path`, and defaults where it cannot be read: whoever goes on tells of the `trouble`."""
    try:
        return load(path)
    except SettingsError as error:
        return LoadedSettings(settings=_at_first(), path=path, unread=error)


def save(settings: Settings, path: Path) -> None:
    """Write the settings, and what a newer version had written beside them. A file that cannot be read is laid aside
    as `settings.unread`. Raises `OSError`.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        old = read_table(path)
    except FileNotFoundError:
        old = {}
    except JsonFileError:
        old = {}
        path.replace(path.with_suffix(".unread"))
    write_table(with_unknown(msgspec.to_builtins(settings, str_keys=True), old, _declared()), path)


def _one_for_each_place(out_of_bounds: list[AnyFault], broken: list[AnyFault]) -> tuple[AnyFault, ...]:
    """What was put right twice, to its bounds and to a rule, is one fault of what the file has."""
    told: dict[At, Fault] = {fault.at: fault for fault in out_of_bounds if _was_put_right(fault)}
    again = [
        replace(fault, got=told.pop(fault.at).got) if isinstance(fault, Fault) and fault.at in told else fault
        for fault in broken
    ]
    return (*(fault for fault in out_of_bounds if not _was_put_right(fault) or fault.at in told), *again)


def _was_put_right(fault: AnyFault) -> TypeGuard[Fault]:
    return isinstance(fault, Fault) and fault.used is not LEFT_OUT


def _declared() -> StructType:
    declared = type_info(Settings)
    assert isinstance(declared, StructType)
    return declared
