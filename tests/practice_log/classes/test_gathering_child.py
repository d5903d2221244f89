"""Questions and answers come whole, or not at all."""

from io import BytesIO

from game.practice_log.classes.gathering_child import received, send
from game.practice_log.classes.student_rows import NoRows


def test_what_is_sent_comes_and_then_nothing_more():
    pipe = BytesIO()
    for fault in ("one", "two"):
        send(pipe, NoRows(fault=fault))
    pipe.seek(0)
    assert [received(pipe) for _ in range(3)] == [NoRows(fault="one"), NoRows(fault="two"), None]


def test_an_answer_that_breaks_off_is_none():
    pipe = BytesIO()
    send(pipe, NoRows(fault="one"))
    for length in range(len(pipe.getvalue())):
        assert received(BytesIO(pipe.getvalue()[:length])) is None
