"""Pure: written notes against played notes gives verdicts, live and afterwards."""

JUDGE_VERSION = 1
"""Kept with every verdict, so that an old take can be judged again by a newer judge."""
