"""What facts come to: sets that grow, the newest word, and no sense made of nonsense."""

from itertools import permutations

import pytest

from game.player import what_was_said
from game.player.what_was_said import WhatWasSaid
from game.practice_log.queries.facts import Fact
from game.practice_log.rows.bar_contents import Stretch
from game.practice_log.rows.entry_rows import About

A, B, C, D = (letter * 32 for letter in "abcd")


def said(*facts):
    known = WhatWasSaid()
    for about, content, *moment in facts:
        known.hear(Fact(about, content, *(moment or (0,)), "device"))
    return known


def test_tunes_once_opened_stay_so():
    opened = [(About.OPENED_TUNE, {"tune": tune}) for tune in ("ode-to-joy", "0123abcd", "ode-to-joy")]
    assert said(*opened).opened == {"ode-to-joy", "0123abcd"}
    assert said(*opened).opened_in_order == ("ode-to-joy", "0123abcd")


def test_of_what_the_ear_knows_the_newest_word_holds():
    words = [(About.KNOWN_BY_EAR, {"tune": A, "known": known}, moment) for known, moment in ((True, 1), (False, 2))]
    assert not said(*words).knows_by_ear(A)
    assert not said(*reversed(words)).knows_by_ear(A)
    assert said(words[0]).knows_by_ear(A)
    assert not said(words[0]).knows_by_ear(B)
    back = (About.KNOWN_BY_EAR, {"tune": A, "known": True}, 2)
    assert said(*words, back).knows_by_ear(A)


def test_of_too_many_lines_the_newest_are_remembered(monkeypatch):
    monkeypatch.setattr(what_was_said, "MOST_LINES", 2)
    assert said(*((About.MET_LINE, {"fingerprints": marks}) for marks in ([A, B], [C]))).lines == {B, C}


def heard(start, *bars):
    return (About.HEARD, {"start": start, "bars": list(bars)})


@pytest.mark.parametrize(
    ("asked", "shares"),
    [
        (Stretch(4, (A, B)), True),
        (Stretch(3, (D, A)), True),
        (Stretch(5, (B, C, D)), True),
        (Stretch(5, (C,)), False),
        (Stretch(0, (A, B, C)), True),
        (Stretch(0, (A, B)), False),
        (Stretch(7, (D,)), False),
    ],
)
def test_bars_were_heard_where_the_same_music_stands(asked, shares):
    """All that stands at the same place is the same, or all of it is the same wherever it stands."""
    assert said(heard(4, A, B, C)).has_heard(asked) is shares


def test_what_is_said_again_says_nothing_new():
    facts = [
        Fact(About.OPENED_TUNE, {"tune": "ode"}, 5, ""),
        Fact(About.KNOWN_BY_EAR, {"tune": A, "known": True}, 5, ""),
        Fact(About.MET_LINE, {"fingerprints": [A, B]}, 5, ""),
    ]
    known = WhatWasSaid()
    assert not any(map(known.holds, facts))
    for fact in facts:
        known.hear(fact)
    assert all(map(known.holds, facts))
    assert known.holds(Fact(About.KNOWN_BY_EAR, {"tune": A, "known": False}, 4, ""))
    assert not known.holds(Fact(About.KNOWN_BY_EAR, {"tune": A, "known": False}, 6, ""))
    assert not known.holds(Fact(About.MET_LINE, {"fingerprints": [A, C]}, 5, ""))


NONSENSE = (None, 7, -1, True, 1e300, "", "../../etc", "Ode to Joy", "a" * 90, [A, 7], [None], {}, [[A]], {"tune": A})


@pytest.mark.parametrize("about", [*About])
def test_nonsense_is_passed_over_whatever_it_is_about(about):
    """Every pair of values in the fields that are read."""
    known = WhatWasSaid()
    known.hear(Fact(about, {}, 0, ""))
    for one, other in permutations(NONSENSE, 2):
        content = {"tune": one, "known": other, "fingerprints": one, "start": one, "bars": other}
        known.hear(Fact(about, content, 0, ""))
    assert (known.opened, known.lines, known.heard) == (set(), frozenset(), {})
    assert not known.knows_by_ear(A)
