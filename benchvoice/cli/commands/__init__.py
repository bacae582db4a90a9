"""One module a command: `add` tells the command line of it, `run` does it (0 is fine)."""
