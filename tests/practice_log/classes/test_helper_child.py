"""Questions and answers come whole, or not at all."""

from io import BytesIO

from game.practice_log.classes.helper_child import received, send


def test_what_is_sent_comes_and_then_nothing_more():
    pipe = BytesIO()
    for thing in ("one", ("two", 2)):
        send(pipe, thing)
    pipe.seek(0)
    assert [received(pipe) for _ in range(3)] == ["one", ("two", 2), None]


def test_an_answer_that_breaks_off_is_none():
    pipe = BytesIO()
    send(pipe, "one")
    for length in range(len(pipe.getvalue())):
        assert received(BytesIO(pipe.getvalue()[:length])) is None
