"""Which keys a step of entering a tune has, in two rows at the foot."""

from game.screens.key_hints import KeyHint, NamedKey, key_hints
from game.tunes.entering.entering import EntryStep

_LEAVE = ("keys.escape", "keys.leave_draft")
_ON = (("keys.tab", "keys.step"), ("keys.enter", "keys.next"), _LEAVE)
_ROWS: dict[EntryStep, tuple[tuple[NamedKey, ...], ...]] = {
    EntryStep.HEAD: ((("keys.updown", "keys.choose"), ("keys.arrows", "keys.change"), *_ON),),
    EntryStep.PITCHES: ((("keys.arrows", "keys.place"), ("keys.backspace", "keys.take_back"), *_ON),),
    EntryStep.RHYTHM: (
        (("keys.space", "keys.begin"), ("keys.arrows", "keys.bar"), ("keys.backspace", "keys.take_back"), *_ON),
        (("F5", "keys.insert_bar"), ("keys.delete", "keys.remove_bar")),
    ),
    EntryStep.PAGE: (
        (
            ("keys.space", "keys.chords_signs"),
            ("F5", "keys.insert_note"),
            ("keys.delete", "keys.rub_out"),
            ("F10", "keys.respell"),
            ("F11", "keys.hear"),
            ("keys.enter", "keys.keep"),
            _LEAVE,
        ),
        (
            ("keys.arrows", "keys.note"),
            ("keys.updown", "keys.length"),
            ("keys.shift", "keys.finer"),
            ("keys.backspace", "keys.take_back"),
            ("keys.tab", "keys.step"),
        ),
    ),
}
_TAPPING = (
    ("keys.space", "keys.tap"),
    ("keys.down", "keys.rest"),
    ("keys.backspace", "keys.again"),
    ("keys.escape", "keys.stop"),
)
_TYPING = (("keys.enter", "keys.write"), ("keys.escape", "keys.back"))


_FREE_STRING_DOES = {
    EntryStep.PITCHES: "keys.take_back",
    EntryStep.RHYTHM: "keys.free_rhythm",
    EntryStep.PAGE: "keys.take_back",
}


def free_string_does(step: EntryStep, *, tapping: bool, typing: bool) -> str:
    """What the free string does, by its key in the catalogue; empty for nothing."""
    if typing:
        return ""
    return "keys.free_tapping" if tapping else _FREE_STRING_DOES.get(step, "")


def entry_hints(
    step: EntryStep, *, tapping: bool, typing: bool, free: tuple[KeyHint, ...] = ()
) -> tuple[tuple[KeyHint, ...], ...]:
    """The rows from the lowest up, while a run is tapped or a text is typed theirs alone; above them `free`, what the
    free string does.
    """
    own = (_TAPPING,) if tapping else (_TYPING,) if typing else _ROWS[step]
    return (*(key_hints(*row) for row in own), *((free,) if free else ()))
