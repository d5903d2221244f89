"""The window: its measures, the sentence shown on it, and what is dropped on it or chosen for it."""

from dataclasses import dataclass, field

import pygame

from game.desk.count_drawing import Count
from game.desk.part_in_view import Followed, follow_all
from game.desk.sheet import Sheet
from game.music.accompanying import Accompanied
from game.screens.choosing.file_chooser import FileChooser
from game.screens.choosing.import_words import import_told
from game.screens.key_hints import KeyHint, KeyPress
from game.tunes.library.files_awaited import FilesAwaited
from game.tunes.library.import_queue import ImportQueue
from game.tunes.library.import_results import ImportNews, ImportProgress, ImportStarted

MESSAGE_S = 7.0
PROGRESS_EVERY_S = 0.25


@dataclass
class Window:
    """One window. `message` is one sentence, shown until `message_until_s` on whatever screen is there;
    `message_since_s` is when its slip came, whatever was written on it after that. `neck_in_time` is whether the neck
    was asked for on a page with the click: then it is there on the next one, too. `corner` is what the turned-up corner
    of the picture leads to, and `corner_taken` whether what happened last was that it was taken. `followed` is what of
    the picture is to be seen where text is larger than the window, and there `seen_px` is how large a part of it is
    seen, `count` the beat that stands out of sight, and `words` what is said there for a while, unless `words_stay`.
    `accompanied_before` is with what bass and chords were heard before a key put them off. `said_once` are the keys of
    sentences that are not said again.
    """

    sheet: Sheet = field(default_factory=lambda: Sheet((1280, 720)))
    imports: ImportQueue = field(default_factory=ImportQueue)
    awaited: FilesAwaited = field(default_factory=FilesAwaited)
    chooser: FileChooser = field(default_factory=FileChooser)
    message: str = ""
    message_until_s: float = 0.0
    message_since_s: float = 0.0
    neck_in_time: bool = False
    corner: KeyHint | None = None
    corner_taken: bool = False
    accompanied_before: Accompanied = Accompanied.WHOLE
    said_once: set[str] = field(default_factory=set)
    told_keys: list[KeyHint] = field(default_factory=list)
    followed: Followed | None = None
    count: Count | None = None
    words: str = ""
    words_stay: bool = False
    seen_px: tuple[int, int] | None = None
    _boxes: list[tuple[pygame.Rect, KeyPress]] = field(default_factory=list)
    _next_progress_s: float = 0.0

    def begin_picture(self) -> None:
        """A picture is drawn anew: what could be clicked on the one before is gone, and so are the keys it told."""
        self._boxes.clear()
        self.told_keys.clear()
        self.corner = self.followed = self.count = None
        self.words, self.words_stay = "", False

    def follow(self, what: Followed | pygame.Rect) -> None:
        """Say what of the picture matters now, in its pixels."""
        self.followed = what if isinstance(what, Followed) else follow_all(what)

    def say_below(self, words: str, *, stay: bool = False) -> None:
        """Say in sight what a screen says elsewhere, too, where text is larger than the window: for a while or, what is
        asked of the player, as long as it holds.
        """
        self.words, self.words_stay = words if self.seen_px is not None else "", stay

    def tell_keys(self, keys: tuple[KeyHint, ...]) -> None:
        """Keys that do something on this picture, shown or not: `told_keys` are all of them."""
        self.told_keys.extend(keys)

    def let_click(self, box: pygame.Rect, press: KeyPress) -> None:
        """Let a click into a box be the press of its key."""
        self._boxes.append((box, press))

    def turn_up_corner(self, box: pygame.Rect, hint: KeyHint) -> None:
        """The corner leads on by this key, and by a click into the box."""
        self.corner = hint
        self.let_click(box, hint.presses[0])
        self.tell_keys((hint,))

    @property
    def boxes(self) -> tuple[pygame.Rect, ...]:
        """What can be clicked on the picture."""
        return tuple(box for box, _ in self._boxes)

    def leads_by_corner(self, event: pygame.event.Event) -> bool:
        """Whether an event is the key of the corner; both Enter keys are one."""
        if event.type != pygame.KEYDOWN or self.corner is None:
            return False
        key = self.corner.presses[0].key
        return event.key == key or (event.key == pygame.K_KP_ENTER and key == pygame.K_RETURN)

    def press_at(self, at: tuple[int, int]) -> KeyPress | None:
        """The press that a click is, None beside every box."""
        return next((press for box, press in self._boxes if box.collidepoint(at)), None)

    def say(self, sentence: str, now_s: float) -> None:
        """Show a sentence for a while."""
        if not self.message_shown(now_s):
            self.message_since_s = now_s
        self.message, self.message_until_s = sentence, now_s + MESSAGE_S

    def message_shown(self, now_s: float) -> bool:
        """Whether there is a sentence to show now."""
        return bool(self.message) and now_s < self.message_until_s

    def look_at_imports(self, now_s: float) -> bool:
        """Say how far the reading of dropped files has come, as long as it goes on; returns whether anything is new."""
        told: ImportNews | ImportStarted | None = self.imports.poll()
        if isinstance(told, ImportProgress) and now_s < self._next_progress_s:
            # Twenty files a second would each have the page drawn anew.
            return False
        if told is None and not self.message_shown(now_s):
            # A file that takes its time, or something else was said meanwhile.
            told = self.imports.going_on
        if told is not None:
            self.say(import_told(told), now_s)
            self._next_progress_s = now_s + PROGRESS_EVERY_S
        return told is not None
