"""The assignments of a player, for the game: what was opened, how far it is, and what is still to be done."""

from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from game.assignments.assigned_map import MapHeld, map_held
from game.assignments.assignment import AssignedTune, Assignment, AssignmentError
from game.assignments.assignment_reader import assignment_from
from game.assignments.set_against_done import SetAgainstDone, TakeOnMap, parts_of
from game.errors import HomefretError, LogError
from game.player.assigned_music import part_music, tune_request, tune_titled
from game.player.assignment_facts import KeptAssignment, digest_of, music_content, plain_text
from game.player.parts_in_log import ReadOnce, how_far
from game.player.player_log import PlayerLog
from game.player.settings import Settings
from game.practice.take_request import TakeRequest
from game.practice_log.queries.assigned_takes import takes_of_passages
from game.tunes.library.library import shelf
from game.tunes.library.shelf_entry import ShelfEntry


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedAssignment:
    """An assignment as it stands with the player: its id, what was set, and whether it is withdrawn."""

    id: str
    assignment: Assignment
    withdrawn: bool


class PlayerAssignments:
    """One player's. `settings` tells theirs as they are now, `today` the date where they are."""

    def __init__(self, log: PlayerLog, settings: Callable[[], Settings], today: Callable[[], date]) -> None:
        self._log, self._settings, self._today = log, settings, today
        self._assignment = ReadOnce()
        self._done: set[str] = set()
        self._looked_s: float | None = None
        self._seen: set[tuple[Path, int, int]] = set()
        self._lines: dict[tuple[str, int], TakeRequest] = {}

    def read_anew(self) -> None:
        """Entries came into the log from elsewhere: what was done is found out anew."""
        self._done.clear()

    def is_time_to_look(self, now_s: float, every_s: float) -> bool:
        """Whether it was not asked for so long; the first time it was not."""
        if self._looked_s is not None and now_s - self._looked_s < every_s:
            return False
        self._looked_s = now_s
        return True

    def has_seen(self, path: Path) -> bool:
        """Whether a file was asked about before, and was not changed since. Raises `OSError`."""
        stat = path.stat()
        this = (path, stat.st_mtime_ns, stat.st_size)
        known = this in self._seen
        self._seen.add(this)
        return known

    def knows(self, text: str) -> bool:
        """Whether a text was opened before, and perhaps withdrawn."""
        return self._log.facts.assignments.of(digest_of(plain_text(text))) is not None

    def open(self, text: str) -> OpenedAssignment:
        """An assignment is opened, as it is written: kept, or known already. Of the tunes on the shelf that it names it
        is kept which they are, whatever they are called later. Raises `AssignmentError` with all its faults.
        """
        assignment = assignment_from(text)
        due = assignment.due.isoformat() if assignment.due else ""
        opened = self._log.facts.open_assignment(text, title=assignment.title, due=due)
        self.find_tunes(opened)
        return self.of(opened)

    def of(self, assignment_id: str) -> OpenedAssignment:
        """The one of an id. Raises `AssignmentError` for one that is not there, or that this program cannot read."""
        kept = self._log.facts.assignments.of(assignment_id)
        found = None if kept is None else self._opened(kept)
        if found is None:
            raise AssignmentError("assignment.gone")
        return found

    def is_newest_form(self, assignment_id: str) -> bool:
        """Whether an assignment is there, and was not corrected since it had that id."""
        kept = self._log.facts.assignments.of(assignment_id)
        return kept is not None and kept.id == assignment_id

    @property
    def under_way(self) -> tuple[tuple[OpenedAssignment, SetAgainstDone], ...]:
        """Those that are neither done nor withdrawn, with how far they are: what is due first at the head. Where the
        log cannot be read, none.
        """
        kept = [one for one in self._log.facts.assignments.kept if not one.withdrawn and one.id not in self._done]
        opened = [(one, self._opened(one)) for one in kept]
        found = self._against_done([(one, it.assignment) for one, it in opened if it is not None])
        ahead = [(self._opened(one), done) for one, done in found if not done.done]
        self._done |= {one.id for one, done in found if done.done}
        both = [(it, done) for it, done in ahead if it is not None]
        return tuple(sorted(both, key=lambda one: (one[1].due is None, one[1].due or 0)))

    def against_done(self, assignment_id: str) -> SetAgainstDone | None:
        """How far one is; None where the log cannot be read."""
        kept = self._log.facts.assignments.of(assignment_id)
        found = self._against_done([(kept, self.of(assignment_id).assignment)]) if kept else []
        return found[0][1] if found else None

    def map_of(self, assignment: Assignment) -> MapHeld:
        """The map that holds in it."""
        return map_held(assignment.neck_map, self._settings().neck_map())

    def tune_of(self, assignment_id: str, part: int) -> ShelfEntry | None:
        """The tune of a part, as it was found at first, or by its title; None where it is not on the shelf."""
        kept, opened = self._log.facts.assignments.of(assignment_id), self.of(assignment_id)
        set_part = parts_of(opened.assignment)[part]
        if kept is None or not isinstance(set_part, AssignedTune):
            return None
        entries = shelf()
        named = kept.forms[-1].tunes.get(part)
        found = next((entry for entry in entries if entry.name == named), None)
        return found or (tune_titled(set_part.title, entries) if set_part.title else None)

    def name_tune(self, assignment_id: str, part: int, entry: ShelfEntry) -> None:
        """A part's tune is this one, whatever it is called later."""
        kept = self._log.facts.assignments.of(assignment_id)
        if kept is not None and kept.forms[-1].tunes.get(part) != entry.name:
            self._log.facts.say_of_assignment({"digest": kept.id, "part": part, "tune": entry.name})

    def lay(self, assignment_id: str, part: int, request: TakeRequest) -> None:
        """A part is laid on the desk: takes of this music count for it. Of lines it is kept in mind, to go on with."""
        kept, music = self._log.facts.assignments.of(assignment_id), part_music(part, request)
        if request.fresh:
            self._lines[assignment_id, part] = request
        if kept is not None and music not in kept.forms[-1].music:
            self._log.facts.say_of_assignment(music_content(kept.id, music))

    def line_under_way(self, assignment_id: str, part: int) -> TakeRequest | None:
        """The line of a part that was laid on the desk last, since the program began, where something of it is left to
        do and it can be done by whoever has seen it; None where another one is to be laid there.
        """
        laid, kept = self._lines.get((assignment_id, part)), self._log.facts.assignments.of(assignment_id)
        if laid is None or kept is None:
            return None
        # What another computer laid since is the one that the log tells of.
        last = next((music for music in reversed(kept.forms[-1].music) if music.part == part), None)
        done = self.against_done(assignment_id)
        if done is None or last != part_music(part, laid):
            return None
        next_up = done.parts[part].next_up
        is_over = not next_up.pages or (next_up.stage is not None and next_up.stage.once_through)
        return None if is_over else laid

    def withdraw(self, assignment_id: str, *, withdrawn: bool = True) -> None:
        """The player does without it, or takes that back."""
        if self.of(assignment_id).withdrawn != withdrawn:
            self._log.facts.say_of_assignment({"digest": self.of(assignment_id).id, "withdrawn": withdrawn})

    def _opened(self, kept: KeptAssignment) -> OpenedAssignment | None:
        assignment = self._assignment(kept.id, kept.text)
        if assignment is None:
            return None
        return OpenedAssignment(id=kept.id, assignment=assignment, withdrawn=kept.withdrawn)

    def find_tunes(self, assignment_id: str) -> None:
        """Keep which tunes of the shelf are meant, and let what is played of them count, wherever it is begun. What is
        not there, or lacks the bars that were set, is told where it is begun.
        """
        assignment = self.of(assignment_id).assignment
        neck_map = self.map_of(assignment).neck_map
        for number, part in enumerate(assignment.tunes):
            entry = self.tune_of(assignment_id, number)
            if entry is not None:
                with suppress(HomefretError):
                    request = tune_request(entry, part, neck_map)
                    self.name_tune(assignment_id, number, entry)
                    self.lay(assignment_id, number, request)

    def _against_done(
        self, chosen: Iterable[tuple[KeptAssignment, Assignment]]
    ) -> list[tuple[KeptAssignment, SetAgainstDone]]:
        both, today = list(chosen), self._today().toordinal()
        try:
            done = how_far(both, self._takes_of, self._assignment, today=today)
        except LogError:
            return []
        return [(kept, one) for (kept, _), one in zip(both, done, strict=True)]

    def _takes_of(self, keys: frozenset[str], since_us: int) -> list[TakeOnMap]:
        with self._log.reading() as connection:
            return takes_of_passages(connection, self._log.player.uuid, keys, since_us=since_us)
