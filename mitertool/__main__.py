"""The program: `mitertool`, or `python -m mitertool`; loads everything where an interrupt ends it in one line."""

import sys

INTERRUPTED = 130
"""128 and the number of the signal, as shells count it."""


def main() -> int:
    """Run the program and return its exit code."""
    try:
        from mitertool.base.collector import rarely_collecting

        with rarely_collecting():  # what is loaded lives on: a twentieth of a short command's time
            from mitertool.cli.main import main as run

            return run()
    except KeyboardInterrupt:  # while modules were loading: everything later is told of there
        if sys.stderr is not None:
            sys.stderr.write("mitertool: stopped\n")
        return INTERRUPTED


if __name__ == "__main__":
    sys.exit(main())
