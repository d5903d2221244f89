"""The page in the `places` stage: the staff waits at each note until it is played at its home."""

import pygame

from game.coach.reasons import without_report
from game.coach.stages import Stage
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.judging.cause import octaves_too_high
from game.judging.expected import ExpectedNote
from game.judging.untimed import HintStep, UntimedRules
from game.judging.verdicts import COUNTS_AS_CLEAN, Verdict
from game.message import message
from game.music.names import NoteNames, name_in, spelling_of
from game.music.notes_called import called
from game.practice.finished_take import clean_heads
from game.practice.free_string import STOP_PLUCKS
from game.practice.page_positions import places_without_home
from game.practice.pencilled import NameMark, PlacedMark, marks_of
from game.practice.places_take import PlacesTake
from game.practice.take_request import TakeRequest
from game.practice_log.rows.log_records import Terms
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.reading.manual_input import ManualInput
from game.screens.reading.notes_in_work import notes_in_work, with_take
from game.screens.reading.page_keys import PageKeys, foot_keys, free_string_keys
from game.screens.reading.page_view_for import page_view_for
from game.screens.reading.take_in_words import cause_in_words
from game.screens.reading.take_routes import result_route
from game.screens.reading.without_places import tell_of_places, tell_what_is_heard
from game.screens.routes import Back, Route, ToResult
from game.text.catalogue import say, tell_all

# The last note stays in sight for a moment before the page with its marks is laid down.
LAST_NOTE_S = 0.9
_KEYS_LAST = (("keys.backspace", "keys.again"), (".", "keys.one_a_click"))


class PlacesPage(BaseScreen):
    """A `places` take on screen."""

    in_take = True
    free_string_commands = True
    takes_unsure = True
    in_line = True

    def __init__(self, context: ScreenContext, request: TakeRequest) -> None:
        super().__init__(context, request.neck_map, written=request.soundings)
        self.request = request
        settings, now_s = context.settings, context.clock.now_s()
        terms = Terms(stage=Stage.PLACES, waits=settings.waits, wants_home=settings.wants_home)
        self._recorder = context.session.recorder(request.passage, request.neck_map, terms, zero_s=now_s)
        rules = UntimedRules(waits=settings.waits, wants_home=settings.wants_home)
        self.take = PlacesTake(request.passage, request.neck_map, now_s=now_s, rules=rules, recorder=self._recorder)
        self.view = self._picture = page_view_for(context, request)
        self._work = self.view.work = notes_in_work(context, request)
        self._manual_input = ManualInput(context, self.view)
        self._keys = PageKeys(context, request, self.view, self.stop)
        self._done_s: float | None = None
        self._help_marks: list[PlacedMark] = []
        self._beyond = places_without_home(request.passage, request.neck_map)
        by_sound = settings.by_microphone
        does = "keys.heard_stop" if by_sound else "keys.free_places"
        free = free_string_keys(context, request.neck_map, does, request.soundings)
        last = _KEYS_LAST if by_sound else (*_KEYS_LAST, ("keys.updown", "keys.octave"))
        self._keys.tell(*free, *foot_keys(("F5", "keys.show_now"), last=last))
        tell_what_is_heard(context)
        self.view.status = (
            _off_map_sentence(self.take.expected, context.settings.note_names)
            or tell_all(without_report(request.reason))
            or say("places.begin")
        )
        self._follow(now_s)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_F5:
            self._help(self.take.ask_help(self.context.clock.now_s()))
            return None
        if event.key in (pygame.K_UP, pygame.K_DOWN):
            # The octave of a guitar that is heard is what it is.
            if not self.context.settings.by_microphone:
                self.take.change_octave()
            return None
        return self._keys.on_key(event)

    def on_note(self, event: NoteStarted) -> Route | None:
        if event.off_neck is not None:
            self.context.say(say("page.off_neck", why=message(f"off_neck.{event.off_neck.name.lower()}")))
        else:
            tell_of_places(self.context, event.note)
        return self.play(event.note)

    def on_played(self, played: PlayedNote) -> Route | None:
        octaves = self.take.octaves
        asked = self.take.asked
        answered = self.take.hear(played)
        if played.place is not None:
            self.view.show_finger(played.place, self.context.clock.now_s())
        if answered is None or asked is None:
            return None
        if self.take.octaves != octaves:
            where = say("octave.above" if self.take.octaves > 0 else "octave.below")
            self.context.say(say("page.octave_settled", where=where))
        self._pencil()
        if answered.moved_on:
            self.view.sketch = None
            self._follow(self.context.clock.now_s())
        if self.take.done:
            self._done_s = played.started_s
        return None

    def on_revised(self, event: NoteRevised) -> None:
        if self.take.revise(event.before, event.after):
            self._pencil()
            self._follow(self.context.clock.now_s())
            self._done_s = event.before.started_s if self.take.done else None

    def _pencil(self) -> None:
        """Write down at once what was wrong, turn to blue-black what was right."""
        take, passage = self.take, self.request.passage
        provisional = take.provisional
        by_n = {note.n: note for note in take.expected}
        marks = list(self._help_marks)
        for verdict in (*take.answered, *((provisional,) if provisional else ())):
            asked = by_n[verdict.n]
            key = passage.bars[asked.note.heads[0].bar].key
            marks += marks_of(asked, verdict, key=key, reading=passage.reading)
        self.view.marks = list(dict.fromkeys(marks))
        self.view.status = ""
        # Once may have been a noise.
        if provisional and provisional.verdict is Verdict.UNSURE and len(provisional.answers) > 1:
            self.view.status = say("unsure.play_again")
        if provisional and provisional.verdict is Verdict.WRONG_PITCH and provisional.first:
            asked = by_n[provisional.n]
            octaves = octaves_too_high(asked, provisional.first.sounding)
            key = passage.bars[asked.note.heads[0].bar].key
            self.view.status = cause_in_words(provisional.cause, octaves, key=key)
        self.view.mark_clean(clean_heads(take.expected, take.answered))
        self.view.work = with_take(self._work, take.expected, take.answered)
        homes = (by_n[verdict.n].home for verdict in take.answered if verdict.verdict in COUNTS_AS_CLEAN)
        self.view.found = frozenset(home.place for home in homes if home is not None)

    def _follow(self, now_s: float) -> None:
        """Glide to the note that is asked."""
        asked = self.take.asked
        if asked is not None:
            self.view.look_at(asked.note.heads[0], now_s)

    def _help(self, step: HintStep | None) -> None:
        """Write the help on the page, up to a step that was given just now."""
        asked = self.take.asked
        if asked is None or step is None:
            return
        name = name_in(spelling_of(asked.note.pitch), self.context.settings.note_names)
        mark = PlacedMark(asked.note.heads[0], NameMark(text=name))
        if mark not in self.view.marks:
            self._help_marks.append(mark)
            self.view.marks.append(mark)
        if step is HintStep.PLACE:
            self.view.sketch = asked.home.place if asked.home else self._beyond.get(asked.note.heads[0])

    def on_instrument_lost(self, now_s: float) -> bool:
        self.take.pause(now_s)
        return True

    def on_instrument_back(self, now_s: float) -> None:
        self.take.resume(now_s)

    def on_tick(self, now_s: float) -> Route | None:
        if self._done_s is not None:
            return self.stop() if now_s - self._done_s >= LAST_NOTE_S else None
        self._help(self.take.tick(now_s))
        return None

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:
        """The free string plucked once asks for help, twice stops."""
        if plucks == 1:
            self._help(self.take.ask_help(now_s))
        return self.stop() if plucks == STOP_PLUCKS else None

    def stop(self) -> ToResult | Back:
        """Leave the take where it is; what was read is shown."""
        return result_route(self.context, self.request, self.take.end(), self._recorder) or Back()


def _off_map_sentence(expected: tuple[ExpectedNote, ...], names: NoteNames) -> str:
    """What is announced before a take: notes without a home, called by these names."""
    without = [note for note in expected if note.home is None]
    if not without:
        return ""
    written = sorted({note.note.pitch for note in without}, key=lambda one: (one.midi, one.step))
    return say("page.off_map", count=len(without), names=tuple(called(one, names) for one in written))
