"""One file a screen. Only the app imports screens."""
