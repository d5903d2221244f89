"""The things in a log as they travel: documents, a line each, out of a log and into another."""
