"""How well lines can be told from real music: boosted trees on the features of excerpts, each tune judged by trees that
never saw it. 0.5 is by guessing, 1 without a fault. Needs the extra `bench` (scikit-learn).
"""

from collections.abc import Sequence
from math import nan
from statistics import median, pstdev

from tests.bench.line_features import SETTLED, features
from tests.bench.line_figures import FIGURES, Excerpt

_FOLDS = 5
FAMILIES = ("rhythm", "motif", "phrase", "pitch", "chords")


def told_apart(level: int, real: Sequence[Excerpt], ours: Sequence[Excerpt]) -> dict[str, float]:
    """The area under the curve by family, for all, and for all with nothing left out, from as many of either kind.

    Else what the vocabulary of the level settles is left out (`LEFT_OUT`); chords are where not all real excerpts have
    them, for then their being there tells.
    """
    import numpy as np
    from sklearn.ensemble import HistGradientBoostingClassifier
    from sklearn.metrics import roc_auc_score
    from sklearn.model_selection import GroupKFold

    count = min(len(real), len(ours))
    rows = [features(excerpt) for excerpt in (*real[:count], *ours[:count])]
    kinds = np.repeat([0, 1], count)
    tunes = [excerpt.name for excerpt in (*real[:count], *ours[:count])]
    chords = all(any(note.root is not None for note in excerpt.notes) for excerpt in real[:count])
    families = [family for family in FAMILIES if chords or family != "chords"]
    asked = [
        *((family, [family], SETTLED[level]) for family in families),
        ("all", families, SETTLED[level]),
        ("nothing left out", families, set[str]()),
    ]
    found = {}
    for title, some, without in asked:
        columns = [(family, name) for family in some for name in rows[0][family] if name not in without]
        table = np.array([[row[family].get(name, nan) for family, name in columns] for row in rows], dtype=float)
        guesses = np.zeros(2 * count)
        for learnt, judged in GroupKFold(_FOLDS).split(table, kinds, tunes):
            trees = HistGradientBoostingClassifier(
                max_iter=120, learning_rate=0.08, max_leaf_nodes=12, l2_regularization=1.0, random_state=1
            )
            guesses[judged] = trees.fit(table[learnt], kinds[learnt]).predict_proba(table[judged])[:, 1]
        found[title] = float(roc_auc_score(kinds, guesses))
    return found


def spread_beside(real: Sequence[Excerpt], ours: Sequence[Excerpt]) -> float:
    """How much lines of one level differ beside real music: the median over all figures of their ratio of spreads."""
    ratios = []
    for figure in FIGURES.values():
        theirs, mine = ([value for e in row if (value := figure(e)) is not None] for row in (real, ours))
        if len(theirs) > 1 and len(mine) > 1 and pstdev(theirs) > 0 and pstdev(mine) > 0:
            ratios.append(pstdev(mine) / pstdev(theirs))
    return median(ratios)
