"""`python -m journey` is the same as `journey`."""

from journey.command import main

main()
