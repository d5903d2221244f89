"""Pure: tunings, places on the neck, the map and the search for the best one."""
