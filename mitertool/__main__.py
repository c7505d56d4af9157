"""The program: `mitertool`, or `python -m mitertool`; loads everything where a signal ends it in one line."""

import sys


def main() -> int:
    """Run the program and return its exit code."""
    try:
        from mitertool.base.stopping import StopError, raise_on_signals
    except KeyboardInterrupt:
        return _stopped(130)
    try:
        raise_on_signals()
        from mitertool.base.collector import collect_no_more, rarely_collecting

        with rarely_collecting():  # what is loaded lives on: a twentieth of a short command's time
            from mitertool.cli.main import main as run

            code = run()
            collect_no_more()
            return code
    except StopError as stop:  # while modules were loading: everything later is told of there
        return _stopped(stop.exit_code)


def _stopped(code: int) -> int:
    if sys.stderr is not None:
        sys.stderr.write("mitertool: stopped\n")
    return code


if __name__ == "__main__":
    sys.exit(main())
