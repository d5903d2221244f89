"""A player's settings in their file and in their log, on each of their computers: what is said on one holds on all.

Whatever is changed here is written into the log as it is changed; what was changed by hand in the file, since file and
log last agreed, is found when the log is opened, and stands there at the time of the file, but after all that this
computer had recorded. Then what others said since is taken over.

On what they agreed last stands in a small file beside the log, `settings-agreed.cache`, that may be thrown away at any
time: then of what stands in the file only that is said which nobody has said yet and is not as at first.
"""

from contextlib import suppress
from datetime import datetime
from pathlib import Path

import msgspec

from game.errors import LogError
from game.player.json_file import JsonFileError, read_table, write_table
from game.player.old_marks import time_of_file
from game.player.player_log import PlayerLog
from game.player.setting_words import HomesOf, SettingWord, players_part, settings_said, words_between
from game.player.settings import Settings
from game.practice_log.queries.facts import Fact, facts_about
from game.practice_log.rows.entry_rows import About

_FILE = "settings-agreed.cache"


class SettingsInLog:
    """The settings of one player. `path` is their file, which need not be there."""

    def __init__(self, log: PlayerLog, path: Path) -> None:
        self._log, self._path = log, path
        self._compared = False

    def say(self, before: Settings, after: Settings, homes_of: HomesOf | None = None) -> None:
        """The player changes their settings here and now; `homes_of` says of which map the homes are."""
        for word in words_between(before, after, homes_of):
            self._log.record_fact(About.SETTING, word)

    def agree(self, settings: Settings) -> Settings | None:
        """What the settings of the file come to with all that was said on other computers. None where the log cannot be
        read or written now.
        """
        facts = self._facts()
        if facts is None:
            return None
        words = self._said_in_file(settings, facts)
        if words:
            at = self._time_of_file()
            for word in words:
                self._log.record_fact(About.SETTING, word, of_file_at=at)
            facts = self._facts() if self._log.flush() else None
        return None if facts is None else settings_said((fact.content for fact in facts), settings)

    def keep_agreed(self, settings: Settings) -> None:
        """The log agrees with these, and they stand in their file. Raises `OSError`."""
        self._compared = True
        agreed, part = self._agreed(), players_part(settings)
        if agreed is None or players_part(agreed) != part:
            write_table({"device": str(self._log.device_id), "settings": part}, self._cache)

    def changed(self, settings: Settings) -> None:
        """What was said here stands in the file too. A disk that refuses changes nothing, and neither does a file that
        has not been compared with the log yet.
        """
        if self._compared:
            with suppress(OSError):
                self.keep_agreed(settings)

    @property
    def _cache(self) -> Path:
        return self._log.path.parent / _FILE

    def _facts(self) -> list[Fact] | None:
        try:
            with self._log.reading() as connection:
                return list(facts_about(connection, self._log.player.uuid, About.SETTING))
        except LogError:
            return None

    def _said_in_file(self, settings: Settings, facts: list[Fact]) -> tuple[SettingWord, ...]:
        """What the file says that the log does not know."""
        if not self._path.exists():
            return ()
        agreed = self._agreed()
        if agreed is not None:
            return words_between(agreed, settings)
        known = [{name: value for name, value in fact.content.items() if name != "map"} for fact in facts]
        return tuple(word for word in words_between(Settings(), settings) if word not in known)

    def _agreed(self) -> Settings | None:
        """On what this device agreed last; None where nobody knows."""
        try:
            table = read_table(self._cache)
            if table["device"] == str(self._log.device_id):
                return msgspec.convert(table["settings"], Settings, str_keys=True)
        except (OSError, JsonFileError, KeyError, msgspec.ValidationError):
            pass
        return None

    def _time_of_file(self) -> datetime:
        now = self._log.now()
        try:
            return time_of_file(self._path, now)
        except OSError:
            return now
