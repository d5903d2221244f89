"""Copies of the log, and how one takes its place: back-ups, restoring, and what is saved of a damaged log."""
