"""What each command answers with `--json`: the same in every language. Fields may be added, never renamed."""
