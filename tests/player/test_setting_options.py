"""A setting says once where it stands and how it is changed; everything else follows from that."""

from enum import Enum
from typing import Annotated

import msgspec
import pytest
from msgspec import Meta

from game.message import message, verbatim
from game.player.setting_options import BelongsTo, ChangedOn, Group, Shown, options_of


class Ink(Enum):
    BLACK = "black"
    BLUE = "blue"


class Declared(msgspec.Struct):
    ink: Annotated[Ink, Shown(Group.APPEARANCE, BelongsTo.PLAYER)] = Ink.BLACK
    loud: Annotated[bool, Shown(Group.PRACTICE, BelongsTo.PLAYER)] = False
    tempo: Annotated[int, Meta(ge=10, le=99), Shown(Group.PRACTICE, BelongsTo.PLAYER, steps=range(20, 61, 20))] = 40
    paper: Annotated[str, Shown(Group.GUITAR, BelongsTo.PLAYER, steps=lambda: ["A4", "A5"])] = "A4"
    strings: Annotated[int, Shown(Group.GUITAR, BelongsTo.PLAYER, on=ChangedOn.FILE)] = 6


OPTIONS = options_of(Declared)


def test_options_come_in_the_order_of_their_declaration_with_their_bounds():
    assert list(OPTIONS) == ["ink", "loud", "tempo", "paper", "strings"]
    assert (OPTIONS["tempo"].lowest, OPTIONS["tempo"].highest) == (10, 99)
    assert (OPTIONS["ink"].lowest, OPTIONS["ink"].group) == (None, Group.APPEARANCE)


@pytest.mark.parametrize(
    ("name", "steps"),
    [("ink", (Ink.BLACK, Ink.BLUE)), ("loud", (False, True)), ("tempo", (20, 40, 60)), ("paper", ("A4", "A5"))],
)
def test_the_arrows_go_through_the_steps_declared_or_those_of_the_type(name, steps):
    assert OPTIONS[name].steps == steps


@pytest.mark.parametrize(
    ("now", "by", "then"),
    [(20, 1, 40), (60, 1, 20), (20, -1, 60), (45, 1, 60), (45, -1, 40), (99, 1, 20), (99, -1, 60), (10, -1, 60)],
)
def test_a_step_goes_round_the_ends_and_from_between_two_steps_to_the_next(now, by, then):
    assert OPTIONS["tempo"].stepped(now, by) == then


def test_from_a_word_that_is_no_step_the_arrows_begin_at_the_first():
    assert OPTIONS["paper"].stepped("A3", 1) == OPTIONS["paper"].stepped("A3", -1) == "A4"


@pytest.mark.parametrize(("number", "nearest"), [(9, 10), (10, 10), (99, 99), (100, 99)])
def test_both_bounds_are_in(number, nearest):
    assert OPTIONS["tempo"].within(number) == nearest


def test_a_number_without_bounds_is_itself():
    assert OPTIONS["strings"].within(-4) == -4


def test_words_stand_in_the_catalogue_under_the_name_of_the_setting():
    ink = OPTIONS["ink"]
    assert (ink.name_words, ink.explanation) == (message("settings.ink"), message("settings.ink.why"))
    assert ink.value_words(Ink.BLUE) == message("settings.ink.blue")
    assert OPTIONS["loud"].value_words(value=True) == message("settings.loud.True")
    assert OPTIONS["tempo"].value_words(40) == verbatim("40")


def test_a_setting_that_stands_nowhere_is_no_setting():
    class Undeclared(msgspec.Struct):
        ink: Annotated[Ink, Meta(title="ink")] = Ink.BLACK

    with pytest.raises(TypeError, match="ink does not say where"):
        options_of(Undeclared)
