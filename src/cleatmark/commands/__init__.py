"""The commands behind the command line, one module a family."""
