"""`python -m mitertool` is the command `mitertool`."""

from mitertool.cli.main import main

main()
