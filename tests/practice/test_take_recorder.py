"""Where a take under way is written down."""

from inspect import signature

from game.practice.take_recorder import NULL_RECORDER, NullRecorder, TakeRecorder

CALLS = [name for name in vars(TakeRecorder) if not name.startswith("_")]


def test_a_take_nobody_writes_down_may_be_told_everything_a_recorder_is_told():
    for name in CALLS:
        told, null = getattr(TakeRecorder, name), getattr(NullRecorder, name)
        assert signature(null) == signature(told), name
        keywords = {key: None for key, one in signature(null).parameters.items() if one.kind is one.KEYWORD_ONLY}
        places = [None for key, one in signature(null).parameters.items() if key != "self" and key not in keywords]
        assert getattr(NULL_RECORDER, name)(*places, **keywords) is None
