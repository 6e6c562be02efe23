"""`python -m journey` is the command line."""

from journey.entry import main

main()
