"""Player, settings, map and instruments."""
