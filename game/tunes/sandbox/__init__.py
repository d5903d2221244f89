"""Tune files are hostile input: they are opened with caps and read in a child process with limits."""
