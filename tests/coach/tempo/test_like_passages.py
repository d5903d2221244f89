"""Where a new passage probably stands."""

import pytest

from game.coach.events import PassageFacts
from game.coach.records import PassageRecord
from game.coach.tempo.like_passages import has_like_passages, prior_for
from game.coach.tempo.steady_tempo import prior

NEW = PassageFacts(name="new", notes_per_beat=2)


def known(name, bpm, notes_per_beat, spread=0.05):
    facts = PassageFacts(name=name, notes_per_beat=notes_per_beat)
    return PassageRecord(facts=facts, belief=prior(bpm, spread))


def test_without_like_passages_the_steady_tempo_is_guessed_above_the_first():
    belief = prior_for(NEW, (), 60)
    assert belief.bpm == pytest.approx(73, abs=0.5)
    assert belief.spread == pytest.approx(0.35, rel=0.02)


def test_like_passages_are_compared_in_notes_a_second():
    """Quarters at 120 and eighths at 60 are two notes a second."""
    at_half = prior_for(NEW, [known("a", 120, 1.6), known("b", 75, 2.56)], 60)
    assert 73 < at_half.bpm < 96
    assert at_half.bpm == pytest.approx(prior_for(NEW, [known("c", 96, 2.0)], 60).bpm, rel=0.02)


def test_a_like_passage_makes_the_guess_sharper():
    assert prior_for(NEW, [known("a", 96, 2.0)], 60).spread < prior_for(NEW, (), 60).spread


def test_a_passage_of_another_density_or_still_unsure_teaches_nothing():
    assert not has_like_passages(
        NEW, [known("slow", 96, 0.5), known("unsure", 96, 2.0, spread=0.3), known("new", 96, 2.0)]
    )
    assert has_like_passages(NEW, [known("a", 96, 2.2)])


def test_of_many_like_passages_the_hundred_played_last_teach():
    """The player of long ago was another."""
    long_ago = [known(f"old {n}", 60, 2.0) for n in range(150)]
    of_late = [known(f"late {n}", 120, 2.0) for n in range(100)]
    assert prior_for(NEW, [*long_ago, *of_late], 60) == prior_for(NEW, of_late, 60)
    assert prior_for(NEW, [*of_late, *long_ago], 60).bpm < prior_for(NEW, of_late, 60).bpm
