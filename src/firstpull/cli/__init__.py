"""The command line: one file a command group, each calling the bench and nothing below it."""
