"""One file a command: `add_parser(subparsers)` names its words, `run(args)` does it and returns the exit status."""
