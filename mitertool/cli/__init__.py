"""The command line: each command reads, calls the library and prints; imports everything left of it."""
