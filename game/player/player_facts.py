"""What a player said, chose and met, for the game: tunes opened and known by ear, lines met, bars heard, assignments.

It is read from the log when first asked for, which must not be before the first frame nor during a take, and kept up
as more is said. Where the log cannot be read, what is said holds until the game is left.
"""

from collections.abc import Callable, Mapping
from contextlib import suppress
from datetime import date, datetime
from pathlib import Path
from typing import Any

from game.coach.events import PageCutAnew
from game.coach.plan.course import Course, CourseBars
from game.coach.plan.next_map import NextMapAnswer, NextMapSaid
from game.coach.plan.programme import Programme
from game.coach.plan.sitting_aim import SittingAim
from game.errors import LogError
from game.music.passage import Passage
from game.player.assignment_facts import AssignmentFacts, digest_of, opened_content, plain_text
from game.player.desk_facts import (
    ABOUT_DESK,
    DeskFacts,
    StepDone,
    aim_content,
    course_bars_content,
    course_content,
    fluent_map_content,
    next_map_content,
    step_content,
)
from game.player.from_paper import paper_content
from game.player.kept_signature import PlayerSignature, signature_content
from game.player.known_by_ear import tune_id
from game.player.map_facts import MapFacts
from game.player.old_marks import OldMarks, read_old_marks
from game.player.what_was_said import WhatWasSaid
from game.practice.paper_practice import PaperTake
from game.practice_log.database.identity import Identity
from game.practice_log.queries.facts import Fact, facts_about
from game.practice_log.queries.passage_facts import TunePagesTold, cut_anew_content, tune_pages_content
from game.practice_log.rows.bar_contents import stretch_of
from game.practice_log.rows.entry_rows import About, us_of
from game.practice_log.rows.passage_key import passage_key
from game.practice_log.writing.practice_log import PracticeLog

_ABOUT = (
    About.OPENED_TUNE,
    About.KNOWN_BY_EAR,
    About.MET_LINE,
    About.HEARD,
    About.ASSIGNMENT,
    About.FROM_PAPER,
    About.MAP,
    *ABOUT_DESK,
)


class PlayerFacts:
    """The facts of one player's log, which lies in `folder`. `player` tells whose it is, `now` the time on the wall."""

    def __init__(
        self, folder: Path, log: PracticeLog, player: Callable[[], Identity], now: Callable[[], datetime]
    ) -> None:
        self._folder, self._log, self._player, self._now = folder, log, player, now
        self._known: WhatWasSaid | None = None

    def read_anew(self) -> None:
        """Entries came into the log from elsewhere: what is asked for next is read from it."""
        if self._log.flush():
            self._known = None

    def take_over_files(self) -> None:
        """Take what lies in files of before into the log; nothing is read where there are none."""
        if read_old_marks(self._folder, self._now()):
            self._known = None
            _ = self._said

    @property
    def opened_tunes(self) -> frozenset[str]:
        """The names of the entries of the shelf that the player opened at least once."""
        return self._said.opened

    @property
    def opened_in_order(self) -> tuple[str, ...]:
        """The same, the one that was opened first at the head."""
        return self._said.opened_in_order

    def open_tune(self, name: str) -> None:
        """The player opens an entry of the shelf."""
        if name not in self._said.opened:
            self._tell(About.OPENED_TUNE, {"tune": name})

    @property
    def met_lines(self) -> frozenset[str]:
        """The fingerprints of the fresh lines and siblings that the player has met."""
        return self._said.lines

    def meet_line(self, marks: frozenset[str]) -> None:
        """A line of these fingerprints is laid on the desk."""
        if not marks <= self._said.lines:
            self._tell(About.MET_LINE, {"fingerprints": sorted(marks)})

    def knows_by_ear(self, passage: Passage) -> bool:
        """Whether the player said that they know the tune of these bars by ear."""
        return self.knows_tune(tune_id(passage))

    def knows_tune(self, tune: str | None) -> bool:
        """The same, by the id of the tune; no where nobody knows which it is."""
        return tune is not None and self._said.knows_by_ear(tune)

    def set_known_by_ear(self, passage: Passage, *, known: bool) -> None:
        """The player says that they know the tune of these bars by ear, or that they do not."""
        if known != self.knows_by_ear(passage):
            self._tell(About.KNOWN_BY_EAR, {"tune": tune_id(passage), "known": known})

    def has_heard(self, passage: Passage) -> bool:
        """Whether these bars were played to the player, or others that share some."""
        return bool(self._said.heard) and self._said.has_heard(stretch_of(passage))

    def mark_heard(self, passage: Passage) -> None:
        """These bars were played to the player."""
        heard = stretch_of(passage)
        if heard not in self._said.heard:
            self._tell(About.HEARD, {"start": heard.start, "bars": list(heard.bars)})

    @property
    def paper_takes(self) -> tuple[PaperTake, ...]:
        """What was practised from paper, the last take of each piece, the newest piece first."""
        return self._said.paper_takes

    def practise_from_paper(self, take: PaperTake) -> None:
        """Music the program does not know was practised with the click: time, bars, tempo and the player's own word."""
        self._tell(About.FROM_PAPER, paper_content(take))

    @property
    def assignments(self) -> AssignmentFacts:
        """What teachers set."""
        return self._said.assignments

    def open_assignment(self, text: str, *, title: str, due: str) -> str:
        """An assignment was opened: the whole file goes into the log, so that another computer can show it. One that is
        open already is not written down again. `due` is a day as ISO 8601 has it, empty for none. Returns its id.
        """
        text = plain_text(text)
        digest = digest_of(text)
        kept = self._said.assignments.of(digest)
        if kept is None or kept.id != digest or kept.withdrawn:
            day = self._now().date()
            self._tell(About.ASSIGNMENT, opened_content(text, title=title, due=due, day=day))
        return digest

    def say_of_assignment(self, content: Mapping[str, Any]) -> None:
        """Something is said of an assignment: see `game.player.assignment_facts`."""
        self._tell(About.ASSIGNMENT, content)

    @property
    def desk(self) -> DeskFacts:
        """What the desk keeps: signature, signed pages, programme, courses, the steps done of a day's plan."""
        return self._said.desk

    @property
    def maps(self) -> MapFacts:
        """The maps that are kept under a name."""
        return self._said.maps

    def say_of_map(self, content: Mapping[str, Any]) -> None:
        """The player keeps, changes, names, uses or withdraws a map: see `game.player.map_facts`."""
        self._tell(About.MAP, content)

    def keep_signature(self, signature: PlayerSignature) -> None:
        """The player signs like this from now on."""
        self._tell(About.SIGNATURE, signature_content(signature))

    def sign_page(self, passage: str) -> None:
        """The player signs the page of a passage, by its name. The first time counts."""
        if passage not in self.desk.signed:
            self._tell(About.SIGNED_PAGE, {"passage": passage, "day": self._now().date().isoformat()})

    def offer_slip(self) -> None:
        """The slip of paper over the bar being played was offered: once is enough."""
        self._tell(About.SLIP_OFFERED, {})

    def pick_programme(self, programme: Programme) -> None:
        """These tunes are the programme from now on; none: there is none."""
        self._tell(About.PROGRAMME, {"tunes": list(programme.tunes)})

    def play_programme(self) -> None:
        """The programme was played through today."""
        if self.desk.programme is not None:
            day = self._now().date().isoformat()
            self._tell(About.PROGRAMME_PLAYED, {"tunes": list(self.desk.programme.tunes), "day": day})

    def keep_course(self, course: Course) -> None:
        """A folder or book is a course from now on, or has other tunes or bars a day. What was played of it stays."""
        if course not in self.desk.courses:
            self._tell(About.COURSE, course_content(course))

    def end_course(self, title: str) -> None:
        """It is no course any more. What was played of it is kept, should it become one again."""
        if any(course.title == title for course in self.desk.courses):
            self._tell(About.COURSE, {"title": title, "tunes": []})

    def play_course_bars(self, title: str, bars: CourseBars) -> None:
        """Bars of a course were played through."""
        self._tell(About.COURSE_BARS, course_bars_content(title, bars))

    def cut_anew(self, said: PageCutAnew) -> None:
        """A page is one since its tune was cut anew: what its former pages earned goes over."""
        self._tell(About.CUT_ANEW, cut_anew_content(said))

    def rename_passage(self, was: Passage, is_now: Passage) -> None:
        """The file of a passage was read anew, or corrected: it goes on as what it is now."""
        self._tell(About.RENAMED_PASSAGE, {"was": _told(was), "is": _told(is_now)})

    def tell_tune_pages(self, told: TunePagesTold) -> None:
        """These are the pages of a tune, of which a clean take of the whole counts."""
        if self.desk.tune_pages.get(told.whole) != told.pages:
            self._tell(About.TUNE_PAGES, tune_pages_content(told))

    def spend_on_step(self, day: date, step: StepDone) -> None:
        """Minutes were spent on a step of the plan of `day`, or it was skipped."""
        self._tell(About.PLAN_STEP, step_content(day, step))

    def aim_at(self, day: date, aim: SittingAim) -> None:
        """The aim of a day was said; one that was said before stays."""
        if self.desk.aim_on(day) is None:
            self._tell(About.AIM, aim_content(day, aim))

    def say_fluent(self, text: str) -> None:
        """It is said today of a map, by its text, that it is fluent: once is enough."""
        if text not in self.desk.fluent_maps:
            self._tell(About.FLUENT_MAP, fluent_map_content(text, self._now().date()))

    def answer_next_map(self, text: str, answer: NextMapAnswer) -> None:
        """The player's answer to the next map that was proposed after the one of that text."""
        self._tell(About.NEXT_MAP, next_map_content(text, NextMapSaid(answer, self._now().date())))

    @property
    def _said(self) -> WhatWasSaid:
        if self._known is None:
            self._known = WhatWasSaid()
            old = read_old_marks(self._folder, self._now())
            readable = self._read_into(self._known)
            missing = [fact for marks in old for fact in marks.facts if not self._known.holds(fact)]
            for fact in missing:
                self._known.hear(fact)
            if readable and old:
                self._take_over(old, missing)
        return self._known

    def _read_into(self, known: WhatWasSaid) -> bool:
        """Whether the log could be read."""
        try:
            with self._log.reading() as connection:
                for fact in facts_about(connection, self._player().uuid, *_ABOUT):
                    known.hear(fact)
        except LogError:
            return False
        return True

    def _take_over(self, old: tuple[OldMarks, ...], missing: list[Fact]) -> None:
        """What old files said goes into the log, and each file goes when all of it is found there."""
        for marks in old:
            for fact in marks.facts:
                if fact in missing:
                    self._record(fact.about, fact.content, marks.at, of_file=True)
        there = WhatWasSaid()
        if not (self._log.flush() and self._read_into(there)):
            return
        for marks in old:
            if all(map(there.holds, marks.facts)):
                with suppress(OSError):
                    marks.path.unlink()

    def _tell(self, about: About, content: Mapping[str, Any]) -> None:
        at = self._now()
        self._said.hear(Fact(about, dict(content), us_of(at), str(self._log.device.uuid)))
        self._record(about, content, at)

    def _record(self, about: About, content: Mapping[str, Any], at: datetime, *, of_file: bool = False) -> None:
        self._log.fact(about, content, player=self._player(), at=at, of_file=of_file)


def _told(passage: Passage) -> dict[str, Any]:
    """A passage as a fact tells of it: its key and its bars."""
    stretch = stretch_of(passage)
    return {"key": passage_key(passage), "start": stretch.start, "bars": list(stretch.bars)}
