"""The player's tunes: kept, ordered, added, and how they lie on the map."""
