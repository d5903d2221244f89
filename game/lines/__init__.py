"""Pure: melodies never seen before, inside the player's map, by level."""
