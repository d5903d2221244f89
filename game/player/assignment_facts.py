"""The assignments of a player as facts of their log, and what these come to. Pure.

A fact holds the digest of an assignment's text (SHA-256 of it, line ends as on Unix) and one thing that is said of it:

    {"digest": D, "title": …, "due": "2026-12-04", "text": …, "day": "2026-11-30"}
                                            it was opened, on that day of the player's; the whole file stands there, so
                                            that every computer of theirs has it. Logs of before November's end have no
                                            day: then it is that of the moment in UTC
    {"digest": D, "part": 0, "pages": […], "whole": …, "map": …}
                                            a part was laid on the desk as this music, for this map
    {"digest": D, "part": 0, "tune": …}     a tune it names is this entry of the shelf, whatever that is called later
    {"digest": D, "withdrawn": true}        the player withdrew it; false takes that back

Opened twice it is one. A file with the same title as one that was opened before is its newer form, as where a teacher
corrects it: what was done of it stays done. Only where the one before was due by then, and this one is due later, it is
another: "Homework" may be the title of every week. What makes no sense, from elsewhere, is passed over.
"""

import hashlib
from datetime import date
from typing import Annotated, Any, Final

import msgspec
from msgspec import Meta

from game.assignments.set_against_done import PartMusic
from game.coach.notes.map_identity import LONGEST_MAP_TEXT
from game.practice_log.rows.entry_rows import time_of

MOST_ASSIGNMENTS: Final = 400
"""Ours: one a week for eight years. Of more, the oldest are forgotten."""

_MOST_PARTS: Final = 100
_MOST_PAGES: Final = 500
_MOST_MUSIC: Final = 5000

_Digest = Annotated[str, Meta(pattern=r"\A[0-9a-f]{64}\Z")]
_Passage = Annotated[str, Meta(pattern=r"\A[0-9a-f]{32}\Z")]
_Part = Annotated[int, Meta(ge=0, lt=_MOST_PARTS)]


class _Opened(msgspec.Struct):
    digest: _Digest
    text: Annotated[str, Meta(min_length=1, max_length=100_000)]
    title: str = ""
    due: str = ""
    day: date | None = None


class _Music(msgspec.Struct):
    digest: _Digest
    part: _Part
    pages: Annotated[list[_Passage], Meta(min_length=1, max_length=_MOST_PAGES)]
    whole: _Passage
    map: Annotated[str, Meta(max_length=LONGEST_MAP_TEXT)] = ""


class _Tune(msgspec.Struct):
    digest: _Digest
    part: _Part
    tune: Annotated[str, Meta(pattern=r"\A[0-9a-z-]{1,80}\Z")]


class _Withdrawn(msgspec.Struct):
    digest: _Digest
    withdrawn: bool


class FormOfAssignment:
    """One form of an assignment, as its file was: `music` are what its parts were laid on the desk as, in order,
    `tunes` the entries of the shelf of those that name one.
    """

    def __init__(self, digest: str, text: str) -> None:
        self.digest, self.text = digest, text
        self.music: dict[PartMusic, None] = {}
        self.tunes: dict[int, str] = {}


class KeptAssignment:
    """An assignment of the player's: its forms, the newest at the end; the day its first one was opened, counted from
    the first of January of year 1, and that moment in microseconds; and whether it is withdrawn.
    """

    def __init__(self, form: FormOfAssignment, title: str, day: int, moment_us: int) -> None:
        self.forms = [form]
        self.title, self.due = title, ""
        self.day, self.moment_us = day, moment_us
        self.withdrawn = False

    @property
    def id(self) -> str:
        """The digest of its newest form."""
        return self.forms[-1].digest

    @property
    def text(self) -> str:
        """The newest form as it was written."""
        return self.forms[-1].text


class AssignmentFacts:
    """All that the facts handed in so far come to."""

    def __init__(self) -> None:
        self._kept: list[KeptAssignment] = []
        self._of: dict[str, KeptAssignment] = {}
        self._early: dict[str, list[_Music | _Tune]] = {}

    @property
    def kept(self) -> tuple[KeptAssignment, ...]:
        """All of them, those that are withdrawn and done too, in the order in which they were opened first."""
        return tuple(self._kept)

    def of(self, digest: str) -> KeptAssignment | None:
        """The one that a text belongs to, by the digest of that."""
        return self._of.get(digest)

    def hear(self, content: dict[str, Any], moment_us: int) -> None:
        """Another fact, in the order of everything."""
        try:
            if "text" in content:
                self._open(msgspec.convert(content, _Opened), moment_us)
            elif "withdrawn" in content:
                said = msgspec.convert(content, _Withdrawn)
                if said.digest in self._of:
                    self._of[said.digest].withdrawn = said.withdrawn
            elif "tune" in content:
                self._of_part(msgspec.convert(content, _Tune))
            else:
                self._of_part(msgspec.convert(content, _Music))
        except (msgspec.ValidationError, OverflowError):
            # A moment may be on no day of the calendar.
            return

    def _open(self, said: _Opened, moment_us: int) -> None:
        day = (said.day or time_of(moment_us).date()).toordinal()
        # What the text is, it says itself: once its line ends counted, too.
        text = plain_text(said.text)
        digest = digest_of(text)
        kept = self._of.get(digest)
        if kept is None:
            form = FormOfAssignment(digest, text)
            kept = self._newer_form_of(said, day)
            if kept is None:
                kept = KeptAssignment(form, said.title, day, moment_us)
                self._kept.append(kept)
            else:
                kept.forms.append(form)
            self._of[digest] = kept
            self._of.setdefault(said.digest, kept)
            for early in self._early.pop(digest, ()):
                self._of_part(early)
        else:
            # An older form that is opened again is the newest one now.
            kept.forms.sort(key=lambda form: form.digest == digest)
        kept.title, kept.due, kept.withdrawn = said.title, said.due, False
        self._forget_oldest()

    def _newer_form_of(self, said: _Opened, day: int) -> KeptAssignment | None:
        """The one that a text which was never opened before is a newer form of; None where it is another."""
        title = said.title.casefold()
        alike = next((one for one in reversed(self._kept) if one.title.casefold() == title), None)
        if alike is None or not title:
            return None
        return alike if is_newer_form(was_due=alike.due, due=said.due, day=day) else None

    def _form(self, digest: str) -> FormOfAssignment | None:
        kept = self._of.get(digest)
        return next((form for form in kept.forms if form.digest == digest), None) if kept else None

    def _of_part(self, said: "_Music | _Tune") -> None:
        """Something about a part; of a text that comes later only, by the clock of another computer, it waits."""
        form = self._form(said.digest)
        if form is None:
            if sum(map(len, self._early.values())) < _MOST_MUSIC:
                self._early.setdefault(said.digest, []).append(said)
        elif isinstance(said, _Tune):
            form.tunes[said.part] = said.tune
        elif len(form.music) < _MOST_MUSIC:
            music = PartMusic(part=said.part, pages=tuple(said.pages), whole=said.whole, neck_map=said.map)
            form.music[music] = None

    def _forget_oldest(self) -> None:
        while len(self._kept) > MOST_ASSIGNMENTS:
            oldest = self._kept.pop(0)
            self._of = {digest: kept for digest, kept in self._of.items() if kept is not oldest}


def _day(text: str) -> int | None:
    try:
        return date.fromisoformat(text).toordinal()
    except ValueError:
        return None


def is_newer_form(*, was_due: str, due: str, day: int) -> bool:
    """Whether a text of the same title, opened on a day, is a newer form of one that was due on another; else it is an
    assignment of its own. Due days are empty for none, or stand as ISO 8601 has them.
    """
    before = _day(was_due)
    over = before is not None and day >= before
    later = before is not None and (_day(due) or before) > before
    return not (over and later)


def plain_text(text: str) -> str:
    """The text of an assignment with line ends as on Unix: whatever wrote it, it is the same one."""
    return text.replace("\r\n", "\n")


def digest_of(text: str) -> str:
    """The id of an assignment by its text, 64 hexadecimal digits (SHA-256, FIPS 180-4)."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def opened_content(text: str, *, title: str, due: str, day: date) -> dict[str, Any]:
    """What JSON can say of an assignment that is opened; `text` as `plain_text` has it."""
    return {"title": title, "due": due, "digest": digest_of(text), "text": text, "day": day.isoformat()}


def music_content(digest: str, music: PartMusic) -> dict[str, Any]:
    """What JSON can say of what a part was laid on the desk as."""
    return {
        "digest": digest,
        "part": music.part,
        "pages": list(music.pages),
        "whole": music.whole,
        "map": music.neck_map,
    }
