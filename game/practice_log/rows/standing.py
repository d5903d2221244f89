"""Which judgement of a take stands: that of the newest judge; of several by one judge, the one made last."""

_STANDING = """(
    SELECT judged.judgement
    FROM judgement AS judged
    CROSS JOIN entry AS judging ON judging.kind = 'judgement' AND judging.row = judged.judgement
    CROSS JOIN device AS judged_on ON judged_on.device = judging.device
    WHERE judged.take = {take}
    ORDER BY judged.judge DESC, judging.moment_us DESC, judged_on.uuid DESC, judging.sequence DESC, judging.at_us DESC
    LIMIT 1
)"""


def standing(take: str) -> str:
    """The number of the judgement that stands, as SQL; `take` is the take's number, as SQL of our own."""
    return _STANDING.format(take=take)
