"""A hand signs as hands do: with a dot, with ten thousand points, with letters nobody can set, or not at all."""

import pygame

from game.desk.kit.signature import SigningRoom
from game.player.kept_signature import MOST_POINTS, MOST_STROKES, signature_content, told_signature
from game.screens.reading.signing_hand import SigningHand

ROOM = SigningRoom(640.0, 480.0, 480.0, 112.0)


def typed(hand, text):
    for sign in text:
        hand.type(pygame.event.Event(pygame.KEYDOWN, key=0, unicode=sign))
    return hand


def drawn(hand, points):
    hand.press(points[0], ROOM)
    for point in points[1:]:
        hand.move(point, ROOM)
    hand.lift()
    return hand


def test_a_single_dot_is_a_signature_and_is_kept_as_one(table):  # noqa: ARG001 - fonts are there
    signature = drawn(SigningHand(), [(700.0, 520.0)]).signature
    assert told_signature(signature_content(signature)).strokes[0][0] == (0.536, 0.357)


def test_ten_thousand_points_are_as_many_as_can_be_kept_and_the_shape_is_theirs(table):  # noqa: ARG001
    points = [(650 + 460 * (step % 2), 485 + 100 * (step / 10_000)) for step in range(10_000)]
    hand = drawn(SigningHand(), points)
    assert sum(map(len, hand.strokes)) == MOST_POINTS
    assert told_signature(signature_content(hand.signature)) is not None
    for _ in range(MOST_STROKES + 5):
        hand = drawn(hand, [(700.0, 520.0)])
    assert len(hand.strokes) <= MOST_STROKES


def test_outside_the_room_nothing_begins_and_what_leaves_it_goes_along_its_edge(table):  # noqa: ARG001
    assert drawn(SigningHand(), [(100.0, 100.0), (700.0, 520.0)]).signature is None
    left = drawn(SigningHand(), [(700.0, 520.0), (700.0, 2000.0)]).signature
    assert left.strokes[0][-1][1] == 1.0


def test_names_with_marks_are_one_thing_and_emoji_alone_are_no_name(table):  # noqa: ARG001
    assert typed(SigningHand(), "Zoe\u0308").signature.typed == "Zoë"
    assert typed(SigningHand(), "🎸🎸").signature is None
    assert typed(SigningHand(), "   ").signature is None
    assert len(typed(SigningHand(), "x" * 500).signature.typed) == 60


def test_what_was_written_is_taken_back_stroke_by_stroke_letter_by_letter_or_all(table):  # noqa: ARG001
    hand = drawn(drawn(SigningHand(), [(700.0, 520.0)]), [(720.0, 520.0)])
    back, rub_out = (
        pygame.event.Event(pygame.KEYDOWN, key=key, unicode="") for key in (pygame.K_BACKSPACE, pygame.K_DELETE)
    )
    hand.type(back)
    assert len(hand.strokes) == 1
    typed(hand, "Ann")
    assert (hand.strokes, hand.typed) == ([], "Ann")
    hand.type(back)
    assert hand.signature.typed == "An"
    hand.type(rub_out)
    assert hand.signature is None
    hand.type(back)
    assert hand.signature is None
