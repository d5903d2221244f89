"""Who plays: a player with their settings, their log, and what is made of the log. `open_session` is the one way in,
for the game, the demo, commands and tests alike.
"""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from game.clock import Clock, wall_time
from game.errors import SettingsError
from game.message import Message
from game.player.clock_watch import ClockWatch
from game.player.gatherer import Gatherer
from game.player.map_history import MapHistory
from game.player.profiles import Profile
from game.player.settings import OPTIONS, Settings
from game.player.settings_file import load_or_defaults, save
from game.tunes.library.shelf_entry import ShelfEntry
from game.tunes.library.shelf_order import ShelfOrder

if TYPE_CHECKING:
    from game.coach.decisions import Decision
    from game.coach.plan.day_facts import SittingEnd
    from game.music.passage import Passage
    from game.neck.neck_map import NeckMap
    from game.player.gathering import GatheringProcess
    from game.player.judging_process import JudgingProcess
    from game.player.player_assignments import PlayerAssignments
    from game.player.player_coach import PlayerCoach
    from game.player.player_day import PlayerDay
    from game.player.player_log import LogTakeRecorder, PlayerLog
    from game.player.player_maps import PlayerMaps
    from game.player.player_notes import PlayerNotes
    from game.player.player_plan import PlayerPlan
    from game.player.player_sharing import PlayerSharing
    from game.player.settings_in_log import SettingsInLog
    from game.practice.finished_take import Finished
    from game.practice_log.rows.log_records import Terms


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfView:
    """How the shelf is looked at: by which order, and for which words, empty for everything."""

    order: ShelfOrder = ShelfOrder.AS_PUT
    words: str = ""


class Session:
    """One player at the desk, from when they sit down until another does.

    Log, coach, notes and plan are made when first asked for, which may take a second: not before the first frame, and
    never during a take. A log that cannot be opened keeps what is played in memory and says why (`log.trouble`).

    `shelf_view` is how the shelf is looked at, `map_history` what was changed on the map, `explained_manual_input`
    whether it was said how to play without an instrument. `settings_trouble` is what was put right in the settings, or
    why they cannot be read; `settings_of_file` whether they are those of the file.
    """

    def __init__(
        self,
        profile: Profile,
        settings: Settings,
        clock: Clock,
        *,
        now: Callable[[], datetime],
    ) -> None:
        self.profile, self.settings, self.clock = profile, settings, clock
        self.now = now
        self.last_opened: ShelfEntry | None = None
        self.shelf_view = ShelfView()
        self.map_history = MapHistory()
        self.explained_manual_input = False
        self.settings_trouble: SettingsError | None = None
        self.settings_of_file = True
        self.gatherer = Gatherer(self._start_gathering)
        self._judging = Gatherer(self._start_judging)
        self._clock_watch = ClockWatch(now, clock.now_s)

    @property
    def folder(self) -> Path:
        """Where what belongs to this player is kept."""
        return self.profile.folder

    def today(self) -> date:
        """The date where the player is."""
        return self.now().date()

    @property
    def name(self) -> str:
        """The player's, empty for the first one."""
        return self.profile.name

    # ruff: noqa: PLC0415 - what follows brings arrays and the database with it: the first frame does without

    @cached_property
    def log(self) -> "PlayerLog":
        """The practice log."""
        from game.player.player_log import PlayerLog

        return PlayerLog(self.folder, self.now)

    @property
    def opened_tunes(self) -> frozenset[str]:
        """The entries of the shelf that the player opened, as far as there is a log: none is begun for this."""
        return self.log.facts.opened_tunes if "log" in vars(self) else frozenset()

    @cached_property
    def coach(self) -> "PlayerCoach":
        """What comes next, and why."""
        from game.player.player_coach import PlayerCoach

        return PlayerCoach(self.log, target_bpm=lambda: self.settings.target_bpm)

    @cached_property
    def notes(self) -> "PlayerNotes":
        """How surely and how fast each note is read."""
        from game.player.player_notes import PlayerNotes

        return PlayerNotes(self.log)

    @cached_property
    def maps(self) -> "PlayerMaps":
        """The maps by their names, and the one in use."""
        from game.player.player_maps import PlayerMaps

        facts = self.log.facts
        return PlayerMaps(lambda: facts, lambda: self.settings, self.change_settings, self.notes.has_read)

    @cached_property
    def assignments(self) -> "PlayerAssignments":
        """What teachers set, and how far it is."""
        from game.player.player_assignments import PlayerAssignments

        return PlayerAssignments(self.log, lambda: self.settings, self.today)

    @cached_property
    def plan(self) -> "PlayerPlan":
        """What today's minutes are for."""
        from game.player.player_plan import PlayerPlan

        facts = self.log.facts
        return PlayerPlan(self.coach, self.notes, lambda: self.settings, self.clock.now_s, lambda: facts)

    @cached_property
    def day_facts(self) -> "PlayerDay":
        """Today as it lies on the desk."""
        from game.player.player_day import PlayerDay

        return PlayerDay(self.plan)

    def sitting_end(self) -> "SittingEnd":
        """What the last page of a sitting tells. Not to be asked for during a take."""
        from game.player.sitting_end import sitting_end

        return sitting_end(self.day_facts, self.log)

    @cached_property
    def sharing(self) -> "PlayerSharing":
        """What is shared with the player's other computers."""
        from game.player.player_sharing import PlayerSharing

        return PlayerSharing(self.folder, lambda: self.log, lambda: self.gatherer.begin(self.clock.now_s()))

    def become_one(self) -> tuple[Message, ...]:
        """Everybody who shares through the folder is this player: bring all of it together, now. Returns what
        `begin_again` does. Raises `LogError` where it cannot be.
        """
        from game.practice_log.transfer.exchange import exchange

        self.gatherer.stop()
        self._judging.stop()
        self.log.flush()
        exchange(self.log.path, now=self.now(), as_one=True)
        return self.begin_again()

    def _start_gathering(self) -> "GatheringProcess | None":
        from game.player.gathering import start_gathering

        return None if self.log.damage else start_gathering(self.log)

    def _start_judging(self) -> "JudgingProcess | None":
        from game.player.judging_process import start_judging

        return start_judging(self.log) if "log" in vars(self) and self.log.damage is None else None

    def look_behind(self, now_s: float, *, resting: bool, in_take: bool) -> bool:
        """Time has passed: let other processes bring the player's computers together, and then judge takes of long ago
        again. Whether entries came into the log: told once, and only while the game rests.
        """
        came = self.gatherer.look(now_s, resting=resting, in_take=in_take)
        alone = resting and not self.gatherer.under_way
        return self._judging.look(now_s, resting=alone, in_take=in_take) or came

    @cached_property
    def _settings_in_log(self) -> "SettingsInLog":
        from game.player.settings_in_log import SettingsInLog

        return SettingsInLog(self.log, self.profile.settings_path)

    def begin_practice(self) -> tuple[Message, ...]:
        """The player plays from now on: nobody puts another log in the place of this one. What files said goes into the
        log, at their time, before anything that is of now; then takes are judged that were cut short when the program
        was last killed. Returns the names of the settings that changed, for they were changed on another computer.
        """
        self.log.lock()
        self.log.check_clock()
        changed = self.take_over_settings()
        self.log.facts.take_over_files()
        self.log.judge_interrupted_takes()
        self.gatherer.begin(self.clock.now_s())
        return changed

    def begin_again(self) -> tuple[Message, ...]:
        """Entries came into the log from elsewhere: what is made of it is made anew when it is asked for next. Returns
        the names of the settings that are others now. Never during a take.
        """
        self.log.judge_interrupted_takes()
        self._forget()
        return self.take_over_settings()

    def _forget(self) -> None:
        """Let all that is known be made of the log again; not while what was played is in memory only."""
        if self.log.flush():
            self.log.read_anew()
            self.coach.projection.begin_again()
            self.notes.projection.begin_again()
            self.plan.begin_again()
            self.assignments.read_anew()

    def _mind_the_clock(self) -> None:
        """Where the clock on the wall was set meanwhile, what was recorded may stand at other moments now."""
        if self._clock_watch.jumped() and self.log.check_clock():
            self._forget()

    def take_over_settings(self) -> tuple[Message, ...]:
        """Let what was changed on other computers hold here too, and tell them what was changed in the file by hand.
        Returns the names of the settings that are others now. Never during a take. Settings that were not read from the
        file, or only in part, stay as they are, and so they do where the log cannot be read.
        """
        if not self.settings_of_file or self.settings_trouble:
            return ()
        before, agreed = self.settings, self._settings_in_log.agree(self.settings)
        if agreed is None:
            return ()
        self.settings = agreed
        if agreed.neck_map() != before.neck_map():
            self.maps.follow_elsewhere(agreed)
        with suppress(OSError):
            if agreed != before:
                save(agreed, self.profile.settings_path)
            self._settings_in_log.keep_agreed(agreed)
        return tuple(
            option.name_words for name, option in OPTIONS.items() if getattr(before, name) != getattr(agreed, name)
        )

    def recorder(self, passage: "Passage", neck_map: "NeckMap", terms: "Terms", *, zero_s: float) -> "LogTakeRecorder":
        """Where a take that may begin is written down. Not to be asked for during a take."""
        from game.player.instrument_setup import used_by

        used = used_by(self.settings)
        return self.log.recorder(passage, neck_map, terms, zero_s=zero_s, instrument=used)

    def finish_take(
        self, finished: "Finished", recorder: "LogTakeRecorder", *, target_bpm: int | None = None
    ) -> "Decision":
        """A take in which something was played is over and written down: what the coach says comes next. `target_bpm`
        is what was set for it, None where the player's own target holds.
        """
        self.notes.finish_take(finished, recorder)
        decision = self.coach.finish_take(finished, recorder, target_bpm=target_bpm)
        if "plan" in vars(self):
            self.plan.finish_take(finished, recorder.begun.started_at)
        self._mind_the_clock()
        self.gatherer.done_here()
        return decision

    def change_settings(self, settings: Settings) -> None:
        """Take settings over and keep them, in the log as well for the player's other computers. Raises `OSError` where
        their file cannot be written: they hold for this time.
        """
        before, self.settings = self.settings, settings
        self._settings_in_log.say(before, settings, self.maps.follow(before, settings))
        self.gatherer.done_here()
        save(settings, self.profile.settings_path)
        self._settings_in_log.changed(settings)

    def write_crash_note(self, fault: BaseException, *, screen: str) -> Path | None:
        """A note of what went wrong on a screen, beside the log; None where the disk refuses."""
        from game.player.crash_note import write_crash_note

        return write_crash_note(self.folder, fault, screen=screen)

    def rest(self) -> None:
        """Nobody plays for a while: a process of its own makes the back-up of today, where one is due."""
        from game.player.back_up_process import begin_back_up

        if "log" in vars(self) and self.log.damage is None:
            begin_back_up(self.log.path, self.today())

    def close(self) -> Message | None:
        """Write what is left, the minutes of the step under way too. A sentence when something could not be written.
        What comes then: `gatherer.leave`.
        """
        if "plan" in vars(self):
            self.plan.leave_step()
        self.gatherer.stop()
        self._judging.stop()
        return self.log.close() if "log" in vars(self) else None


def open_session(
    profile: Profile,
    clock: Clock,
    *,
    now: Callable[[], datetime] = wall_time,
    settings: Settings | None = None,
) -> Session:
    """Let a player sit down, with their settings as they are kept, or with those given. `now` tells
    the time on the wall, in the player's zone. Of settings that cannot be read the `settings_trouble` tells.
    """
    if settings is not None:
        session = Session(profile, settings, clock, now=now)
        session.settings_of_file = False
        return session
    kept = load_or_defaults(profile.settings_path)
    session = Session(profile, kept.settings, clock, now=now)
    session.settings_trouble = kept.trouble
    return session
