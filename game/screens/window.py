"""The window: its measures, the sentence shown on it, and what is dropped on it or chosen for it."""

from dataclasses import dataclass, field

from game.desk.sheet import Sheet
from game.screens.choosing.file_chooser import FileChooser
from game.tunes.library.import_queue import ImportQueue

MESSAGE_S = 7.0


@dataclass
class Window:
    """One window. `message` is one sentence, shown until `message_until_s` on whatever screen is there. `neck_in_time`
    is whether the neck was asked for on a page with the click: then it is there on the next one, too.
    """

    sheet: Sheet = field(default_factory=lambda: Sheet((1280, 720)))
    imports: ImportQueue = field(default_factory=ImportQueue)
    chooser: FileChooser = field(default_factory=FileChooser)
    message: str = ""
    message_until_s: float = 0.0
    neck_in_time: bool = False

    def say(self, sentence: str, now_s: float) -> None:
        """Show a sentence for a while."""
        self.message, self.message_until_s = sentence, now_s + MESSAGE_S

    def message_shown(self, now_s: float) -> bool:
        """Whether there is a sentence to show now."""
        return bool(self.message) and now_s < self.message_until_s
