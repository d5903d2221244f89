"""The page in the `places` stage: the staff waits at each note until it is played at its home."""

import pygame

from game.coach.stages import Stage
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.untimed import HintStep, UntimedRules
from game.judging.verdicts import Verdict
from game.music.names import name_in, spelling_of
from game.practice.finished_take import clean_heads
from game.practice.pencilled import NameMark, PlacedMark, marks_of
from game.practice.places_take import PlacesTake
from game.practice_log.rows.log_records import Terms
from game.screens.context import ScreenContext
from game.screens.reading.page_screen import PageScreen, foot_keys, free_string_keys
from game.screens.reading.take_in_words import cause_in_words
from game.screens.routes import Destination, TakeRequest, ToResult, ToShelf
from game.text.catalogue import say, tell_all

# The last note stays in sight for a moment before the page with its marks is laid down.
LAST_NOTE_S = 0.9


class PlacesPage(PageScreen):
    """A `places` take on screen."""

    def __init__(self, around: ScreenContext, tune: TakeRequest) -> None:
        super().__init__(around, tune)
        settings = around.settings
        rules = UntimedRules(waits=settings.waits, wants_home=settings.wants_home)
        now_s = around.clock.now_s()
        self.take = PlacesTake(tune.passage, tune.neck_map, now_s=now_s, rules=rules)
        terms = Terms(stage=Stage.PLACES, waits=settings.waits, wants_home=settings.wants_home)
        self._kept = around.kept_take(tune.passage, tune.neck_map, terms, zero_s=now_s)
        self._done_s: float | None = None
        self._lost: str | None = None
        self._help_marks: list[PlacedMark] = []
        free = free_string_keys(around, tune.neck_map, "keys.free_places")
        self.tell_keys(*free, *foot_keys(("keys.space", "keys.help")))
        self.view.aside = _off_map_sentence(self.take.expected) or tell_all(tune.reason) or say("places.begin")
        self._follow(now_s)

    def handle(self, event: pygame.event.Event) -> Destination | None:
        now_s = self.around.clock.now_s()
        played = self.played_by_hand(event)
        if played is not None:
            return self._play(played)
        if event.type == pygame.KEYDOWN:
            if event.key == pygame.K_SPACE:
                self._help(self.take.ask_help(), now_s)
                return None
            if event.key == pygame.K_F8:
                self.take.change_octave()
                return None
        return self.handle_common(event)

    def heard(self, event: NoteStarted) -> Destination | None:
        if event.off_neck is not None:
            self.around.say(say("page.off_neck", why=event.off_neck.value))
        elif event.note.place is None and not self.take.pitch_only:
            self.around.say(say("page.pitch_only"))
        return self._play(event.note)

    def _play(self, played: PlayedNote) -> Destination | None:
        if self.take.paused:
            # Whatever plays on answers for the instrument that went away.
            self.take.resume(played.started_s)
            self._lost = None
        octaves = self.take.octaves
        asked = self.take.asked
        answered = self.take.hear(played)
        self._kept.played(played)
        if played.place is not None:
            self.view.press(played.place, self.around.clock.now_s())
        if answered is None or asked is None:
            return None
        if self.take.octaves != octaves:
            where = say("octave.above" if self.take.octaves > 0 else "octave.below")
            self.around.say(say("page.octave_settled", where=where))
        self._pencil()
        if answered.moved_on:
            self.view.sketch = None
            self._follow(self.around.clock.now_s())
        if self.take.done:
            self._done_s = played.started_s
        return None

    def revised(self, event: NoteRevised) -> None:
        if self.take.revise(event.before, event.after):
            self._kept.revised(event.before, event.after)
            self._pencil()
            self._follow(self.around.clock.now_s())
            self._done_s = event.before.started_s if self.take.done else None

    def _pencil(self) -> None:
        """Write down at once what was wrong, turn to blue-black what was right."""
        take, passage = self.take, self.tune.passage
        provisional = take.provisional
        by_n = {note.n: note for note in take.expected}
        marks = list(self._help_marks)
        for verdict in (*take.answered, *((provisional,) if provisional else ())):
            asked = by_n[verdict.n]
            key = passage.bars[asked.note.heads[0].bar].key
            marks += marks_of(asked, verdict, key=key, reading=passage.reading)
        self.view.marks = list(dict.fromkeys(marks))
        cause = provisional.cause if provisional and provisional.verdict is Verdict.WRONG_PITCH else None
        self.view.aside = cause_in_words(cause)
        self.view.mark_clean(clean_heads(take.expected, take.answered))

    def _follow(self, now_s: float) -> None:
        """Glide to the note that is asked."""
        asked = self.take.asked
        if asked is not None:
            self.view.look_at(asked.note.heads[0], now_s)

    def _help(self, step: HintStep, now_s: float) -> None:
        """Write the help on the page, up to a step."""
        asked = self.take.asked
        if asked is None:
            return
        self._kept.helped(asked.n, step, at_s=now_s)
        name = name_in(spelling_of(asked.note.pitch), self.around.settings.note_names)
        mark = PlacedMark(asked.note.heads[0], NameMark(text=name))
        if mark not in self.view.marks:
            self._help_marks.append(mark)
            self.view.marks.append(mark)
        if step is HintStep.PLACE and asked.home is not None:
            self.view.sketch = asked.home.place

    def device_lost(self, name: str, *, was_playing: bool) -> None:
        if not was_playing:
            super().device_lost(name, was_playing=was_playing)
            return
        self.take.pause(self.around.clock.now_s())
        self._lost = name
        self.around.say(say("page.waits", device=name))

    def device_found(self, name: str) -> None:
        if self._lost is not None:
            self.take.resume(self.around.clock.now_s())
            self._lost = None
            self.around.say(say("page.back", device=name))
        else:
            super().device_found(name)

    def passed(self, now_s: float) -> Destination | None:
        if self._done_s is not None:
            return self.stop() if now_s - self._done_s >= LAST_NOTE_S else None
        if self._lost is not None:
            self.around.say(say("page.waits", device=self._lost))
        before = self.take.help_given
        step = self.take.tick(now_s)
        if step is not before:
            self._help(step, now_s)
        return None

    def commanded(self, plucks: int, now_s: float) -> Destination | None:
        """One pluck of the free string asks for help."""
        if plucks == 1:
            self._help(self.take.ask_help(), now_s)
            return None
        return super().commanded(plucks, now_s)

    def stop(self) -> ToResult | ToShelf:
        finished = self.take.finish()
        self._kept.ended(finished)
        if not finished.read:
            return ToShelf()
        return ToResult(self.tune, finished, self.around.coach_heard(finished, self._kept))


def _off_map_sentence(expected: tuple[ExpectedNote, ...]) -> str:
    """What is announced before a take: notes without a home."""
    without = [note for note in expected if note.home is None]
    if not without:
        return ""
    names = sorted({note.note.pitch.name for note in without})
    return say("page.off_map", count=len(without), names=", ".join(names))
