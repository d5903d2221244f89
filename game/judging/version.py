"""The version of the judge, kept with every judgement. Raise it when the same take may get other verdicts."""

JUDGE_VERSION = 2
