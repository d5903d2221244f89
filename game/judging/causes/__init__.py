"""Why pitches were wrong, weighed over a whole take: pure."""
