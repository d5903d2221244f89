"""Pure: following a player whose own clock moves, who stops, goes back or skips."""
