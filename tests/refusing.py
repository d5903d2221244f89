"""What a person is told when something of theirs is refused."""

import re
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from game.errors import HomefretError
from game.text.catalogue import tell


@contextmanager
def refusal(kind: type[HomefretError], sentence: str = "") -> Iterator[pytest.ExceptionInfo]:
    """Expect an error of ours whose sentence is found by this regular expression."""
    with pytest.raises(kind) as caught:
        yield caught
    told = tell(caught.value.message)
    assert re.search(sentence, told), told
