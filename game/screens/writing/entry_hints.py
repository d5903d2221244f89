"""Which keys a step of entering a tune has, at its foot and in its corner."""

from game.screens.key_hints import KeyHint, NamedKey, key_hints
from game.tunes.entering.entering import EntryStep

_LEAVE = ("keys.escape", "keys.leave_draft")
_STEP = ("keys.tab", "keys.step")
_KEYS: dict[EntryStep, tuple[NamedKey, ...]] = {
    EntryStep.HEAD: (("keys.updown", "keys.choose"), ("keys.arrows", "keys.change"), _STEP, _LEAVE),
    EntryStep.PITCHES: (("keys.arrows", "keys.place"), ("keys.backspace", "keys.take_back"), _STEP, _LEAVE),
    EntryStep.RHYTHM: (
        ("keys.space", "keys.begin"),
        ("keys.arrows", "keys.bar"),
        ("keys.backspace", "keys.take_back"),
        ("keys.insert", "keys.insert_bar"),
        ("keys.delete", "keys.remove_bar"),
        _LEAVE,
        _STEP,
    ),
    EntryStep.PAGE: (
        ("keys.arrows", "keys.note"),
        ("keys.updown", "keys.length"),
        ("keys.insert", "keys.insert_note"),
        ("keys.delete", "keys.rub_out"),
        ("#", "keys.respell"),
        ('"', "keys.chords_signs"),
        ("keys.space", "keys.hear"),
        ("keys.backspace", "keys.take_back"),
        _LEAVE,
        _STEP,
        ("keys.shift", "keys.finer"),
    ),
}
_TAPPING = (
    ("keys.space", "keys.tap"),
    ("keys.down", "keys.rest"),
    ("keys.backspace", "keys.again"),
    ("keys.escape", "keys.stop"),
)
_TYPING = (("keys.escape", "keys.back"),)


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


def entry_hints(step: EntryStep, *, tapping: bool, typing: bool) -> tuple[KeyHint, ...]:
    """The keys at the foot, those first that must have room; while a run is tapped or a text is typed theirs alone."""
    return key_hints(*(_TAPPING if tapping else _TYPING if typing else _KEYS[step]))


def next_in_words(step: EntryStep, *, tapping: bool, typing: bool) -> str:
    """What the corner leads to, by its key in the catalogue; empty while a run is tapped, for nothing follows then."""
    if typing:
        return "writing.write_above"
    return "" if tapping else f"writing.on.{step.value}"
