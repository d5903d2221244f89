"""A tune is entered: the head of its page, its pitches as they are played, their rhythm tapped with the click, and
corrections.

Every change is kept in a file at once: leaving, a crash or an empty battery loses nothing but the bars being tapped.
"""

import math
from dataclasses import replace
from pathlib import Path

import pygame

from game.errors import HomefretError
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.message import message
from game.practice.clock_gap import GapWatch
from game.practice.free_string import STOP_PLUCKS, is_free_string
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint
from game.screens.reading.manual_input import ManualInput
from game.screens.reading.page_keys import free_string_keys
from game.screens.routes import Back, Route, ToShelf
from game.screens.writing.click_run import beat_shown, start_click
from game.screens.writing.entering_view import EnteringView, EntryWords
from game.screens.writing.entry_hints import entry_hints, free_string_does, next_in_words
from game.screens.writing.entry_keys import RESPELL, by_key
from game.screens.writing.entry_sound import hear_page
from game.screens.writing.entry_words import status_in_words
from game.screens.writing.head_rows import HEAD_ROWS
from game.screens.writing.keeping import keep_tune
from game.text.catalogue import tell
from game.tunes.entering.draft import Draft
from game.tunes.entering.draft_file import new_draft_path, write_draft
from game.tunes.entering.entering import Entering, EntryStep, gone_back, in_step, opened, pencil_at
from game.tunes.entering.pitch_entry import heard, played_over, revised, taken_back
from game.tunes.entering.place_words import LONGEST, chords_at, written_above
from game.tunes.entering.rhythm_entry import begun, ended, ends_itself, last_bar_taken_back, struck, tap_revised
from game.tunes.entering.tapped_rhythm import Tap

# The plucks that stop a run are no rests in it; so long ago they began.
_STOPPED_BY_S = 2.0
CHORDS = '"'
"""The sign that begins chord symbols and signs above a note."""

_ENTER = (pygame.K_RETURN, pygame.K_KP_ENTER)


class EnteringScreen(BaseScreen):
    """One tune being entered; without a draft a new one, whose file is made with its first note."""

    in_take = True
    free_string_commands = True

    def __init__(self, context: ScreenContext, path: Path | None = None, draft: Draft | None = None) -> None:
        super().__init__(context)
        self._path = path or new_draft_path(context.session.folder)
        self.state = opened(draft or Draft(reading=context.settings.reading))
        self.drawing = EnteringView(context, self.state)
        self._no_hands, self._by_hand = self._manual_input, ManualInput(context, self.drawing)
        self._row = 0
        self._typed: str | None = None
        self._gaps = GapWatch(context.clock)
        self._asked_to_keep = False
        self._take(self.state)

    @property
    def moving(self) -> bool:
        return self.state.run is not None

    def resized(self) -> None:
        self.drawing.resized()

    def _take(self, state: Entering) -> None:
        """Go on from another state: show it, and keep the draft where it has changed."""
        draft, before = state.draft, self.state.draft
        self.state = state
        plays = state.step is not EntryStep.HEAD and self._typed is None
        self._manual_input = self._by_hand if plays else self._no_hands
        self.drawing.show(state)
        if draft != before and (draft.pitches or draft.title):
            self._asked_to_keep = False
            try:
                write_draft(self._path, draft)
            except HomefretError as error:
                self.context.say_error(error)

    @property
    def typing(self) -> bool:
        """In the head, whose title is typed, and while chords are."""
        return self._typed is not None or self.state.step is EntryStep.HEAD

    def handle(self, event: pygame.event.Event) -> Route | None:
        """On the page two signs are commands, whatever key they stand on: also one that plays the neck."""
        sign = event.type == pygame.KEYDOWN and event.unicode in (RESPELL, CHORDS)
        if sign and self.state.step is EntryStep.PAGE and self._typed is None:
            return self.on_key(event)
        return super().handle(event)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if self.state.run is not None:
            self._key_in_run(event)
        elif self._typed is not None:
            self._type(event, self._typed)
        elif event.key == pygame.K_ESCAPE:
            self.context.devices.sound.stop()
            return Back()
        elif event.key == pygame.K_TAB:
            self._take(in_step(self.state, self.state.step.following))
        elif event.key in _ENTER:
            return self._go_on()
        elif not self._commanded(event):
            self._take(by_key(self.state, event, HEAD_ROWS[self._row]))
        return None

    def _commanded(self, event: pygame.event.Event) -> bool:
        """Whether a key did something other than change the draft or move the pencil."""
        step = self.state.step
        if step is EntryStep.HEAD and event.key in (pygame.K_UP, pygame.K_DOWN):
            self._row = (self._row + (1 if event.key == pygame.K_DOWN else -1)) % len(HEAD_ROWS)
        elif step is EntryStep.RHYTHM and event.key == pygame.K_SPACE:
            self.begin()
        elif step is EntryStep.PAGE and event.unicode == CHORDS:
            self._typed = chords_at(self.state)
            self._take(self.state)
        elif step is EntryStep.PAGE and event.key == pygame.K_SPACE:
            self._hear_or_stop()
        else:
            return False
        return True

    def _hear_or_stop(self) -> None:
        sound = self.context.devices.sound
        if sound.strings.playing:
            sound.stop()
        else:
            hear_page(self.context, self.state.draft, self.state.at)

    def _key_in_run(self, event: pygame.event.Event) -> None:
        now_s = self.context.clock.now_s()
        if event.key in (pygame.K_SPACE, pygame.K_DOWN):
            self._take(struck(self.state, Tap(at_s=now_s, rest=event.key == pygame.K_DOWN)))
        elif event.key == pygame.K_BACKSPACE:
            self.context.devices.sound.metronome.stop()
            self._take(replace(self.state, run=None))
            self.begin()
        elif event.key == pygame.K_ESCAPE:
            self.stop(now_s)

    def _type(self, event: pygame.event.Event, typed: str) -> None:
        """A key while chord symbols or a sign are typed; what cannot be read stays, to be mended."""
        if event.key in _ENTER:
            state = written_above(self.state, typed)
            self._typed = typed if state.said else None
            if state.said:
                self.context.say(tell(state.said))
            self._take(state)
        elif event.key == pygame.K_ESCAPE:
            self._typed = None
            self._take(replace(self.state, said=None))
        elif event.key == pygame.K_BACKSPACE:
            self._typed = typed[:-1]
        elif event.unicode and event.unicode.isprintable() and len(typed) < LONGEST:
            self._typed = typed + event.unicode

    def _go_on(self) -> Route | None:
        """To the next step; from the page the tune goes onto the shelf, if all is there."""
        if self.state.step is not EntryStep.PAGE:
            self._take(in_step(self.state, self.state.step.following))
            return None
        draft = self.state.draft
        if not draft.title.strip():
            self._row = 0
            self._take(replace(in_step(self.state, EntryStep.HEAD), said=message("writing.wants_title")))
            return None
        if not draft.complete and not self._asked_to_keep:
            self._asked_to_keep = True
            missing = message("writing.rhythm_missing", count=len(draft.pitches) - draft.timed)
            self._take(replace(self.state, said=missing))
            return None
        return self._keep(draft)

    def _keep(self, draft: Draft) -> Route | None:
        self.context.devices.sound.stop()
        try:
            keep_tune(self.context, self._path, draft)
        except HomefretError as error:
            self.context.say_error(error)
            return None
        return ToShelf()

    def begin(self) -> None:
        """Count in, and the click goes on from the bar with the pencil."""
        draft, bar = self.state.draft, self.state.bar
        if draft.complete and self.state.bar_start >= draft.settled:
            return
        try:
            click = start_click(
                self.context, draft.meter, draft.tempo_bpm, pickup=draft.pickup if bar < 0 else draft.pickup * 0
            )
        except HomefretError as error:
            self.context.say_error(error)
            return
        self._gaps.gap()
        self._take(begun(self.state, zero_s=click.zero_s, quarter_s=click.quarter_s))

    def stop(self, now_s: float) -> None:
        """The click stops, and the bars that were tapped are written."""
        self.context.devices.sound.metronome.stop()
        self._take(ended(self.state, now_s))

    def on_tick(self, now_s: float) -> Route | None:
        gap = self._gaps.gap()
        self.context.devices.sound.tick(now_s)
        if self.state.run is not None:
            if gap is not None:
                self.stop(gap.from_s)
            elif ends_itself(self.state, now_s):
                self.stop(now_s)
        return None

    def note_started(self, event: NoteStarted) -> Route | None:
        """In a run any note is a tap, and the free string a rest; else the free string takes back. What was not heard
        surely is not written.
        """
        if self.state.step is EntryStep.HEAD or self._typed is not None:
            return None
        self._keep_in_mind(event.note)
        if not event.note.sure:
            self._string.hear_note(event.note, self.neck_map)
            return None
        free = is_free_string(event.note, self.neck_map)
        if self.state.run is not None:
            self._take(struck(self.state, _tap(event.note, rest=free)))
        if free:
            self._string.hear_note(event.note, self.neck_map)
        if free or self.state.run is not None:
            return None
        # What the string was plucked for goes before what is played behind it.
        plucks = self._string.command_by(math.inf)
        if plucks:
            self.on_gesture(plucks, event.note.started_s)
        self._string.hear_note(event.note, self.neck_map)
        return self.play(event.note)

    def _is_gesture(self, note: PlayedNote) -> bool:
        """In a run the free string is a rest, and turns out otherwise as any tap does."""
        return self.state.run is None and super()._is_gesture(note)

    def on_played(self, played: PlayedNote) -> Route | None:
        if self.state.run is not None:
            self._take(struck(self.state, _tap(played, rest=False)))
        elif self.state.step is EntryStep.PITCHES:
            self._take(heard(self.state, played.sounding, played.started_s))
        elif self.state.step is EntryStep.PAGE:
            self._take(played_over(self.state, played.sounding, played.started_s))
        return None

    def on_revised(self, event: NoteRevised) -> None:
        before = (event.before.sounding, event.before.started_s)
        after = (event.after.sounding, event.after.started_s) if event.after else None
        revise = revised if self.state.run is None else tap_revised
        self._take(revise(self.state, before, after))

    def on_pedal(self, at_s: float) -> None:
        if self.state.run is not None:
            self._take(struck(self.state, Tap(at_s=at_s, rest=True)))
        super().on_pedal(at_s)

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:
        """In a run the free string was a rest, twice stops; else it takes back, and in the rhythm it begins."""
        state = self.state
        if state.run is not None:
            if plucks >= STOP_PLUCKS:
                since_s = now_s - _STOPPED_BY_S
                taps = tuple(tap for tap in state.run.taps if not (tap.rest and tap.at_s > since_s))
                self._take(replace(state, run=replace(state.run, taps=taps)))
                self.stop(now_s)
        elif state.step is EntryStep.PITCHES:
            self._take(taken_back(state, plucks))
        elif state.step is EntryStep.PAGE:
            self._take(gone_back(state))
        elif state.step is EntryStep.RHYTHM and plucks == 1:
            self.begin()
        elif state.step is EntryStep.RHYTHM:
            self._take(last_bar_taken_back(state))
        return None

    def on_instrument_lost(self, now_s: float) -> bool:
        if self.state.run is not None:
            self.stop(now_s)
        return False

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click goes to a row of the head, or brings the pencil to a note."""
        row, pitch = self.drawing.row_at(at), self.drawing.music.pitch_near(at)
        if row is not None:
            self._row = row
        elif pitch is not None and self.state.run is None and self._typed is None:
            self._take(pencil_at(self.state, pitch))
        return None

    def draw(self, surface: pygame.Surface) -> bool:
        return self.drawing.draw_entry(surface, self._words())

    def _words(self) -> EntryWords:
        state, draft = self.state, self.state.draft
        beat = ""
        if state.run is not None:
            pickup = draft.pickup if state.run.start < 0 else draft.pickup * 0
            beat = beat_shown(self.context, draft.meter, self.context.clock.now_s(), pickup=pickup)
        return EntryWords(
            status=status_in_words(state, self.context.settings.note_names),
            beat=beat,
            keys=entry_hints(state.step, tapping=state.run is not None, typing=self._typed is not None),
            free=self._free(),
            on=next_in_words(state.step, tapping=state.run is not None, typing=self._typed is not None),
            row=self._row,
            typed=self._typed,
        )

    def _free(self) -> tuple[KeyHint, ...]:
        """What the free string does, where a guitar is in hand."""
        tapping, typing = self.state.run is not None, self._typed is not None
        does = free_string_does(self.state.step, tapping=tapping, typing=typing)
        return free_string_keys(self.context, self.neck_map, does) if does else ()


def _tap(played: PlayedNote, *, rest: bool) -> Tap:
    return Tap(at_s=played.started_s, rest=rest, sounding=played.sounding)
