"""Which rows of a long list are in sight."""


def first_in_sight(*, chosen: int, shown: int, count: int) -> int:
    """The first of `shown` rows in sight out of `count`, from 0: the chosen one stays in the middle of a long list."""
    return max(0, min(max(0, count - shown), chosen - shown // 2))
