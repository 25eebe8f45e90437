"""Run the command with `python -m generator`."""

from generator.cli import main

main()
