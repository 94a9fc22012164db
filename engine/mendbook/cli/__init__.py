"""The command line: it reads arguments and files, asks the engine, and prints. Nothing else prints."""

from mendbook.cli.entry import main

__all__ = ["main"]
