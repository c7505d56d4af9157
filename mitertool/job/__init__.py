"""The job: a TOML file read, and everything in it solved into one frozen answer; imports nest and left of it."""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.job import schema
    from mitertool.job.fit_up import Fit, fit_of
    from mitertool.job.from_a_bar import how_many
    from mitertool.job.model import FrameOrder, Job
    from mitertool.job.read import load, load_list, one_frame
    from mitertool.job.solution import Solution
    from mitertool.job.solved import SolvedPiece
    from mitertool.job.solving import solve

__all__ = [
    "Fit",
    "FrameOrder",
    "Job",
    "Solution",
    "SolvedPiece",
    "fit_of",
    "how_many",
    "load",
    "load_list",
    "one_frame",
    "schema",
    "solve",
]

__getattr__ = door(
    __name__,
    {
        "fit_up": "Fit fit_of",
        "from_a_bar": "how_many",
        "model": "FrameOrder Job",
        "read": "load load_list one_frame",
        "solution": "Solution",
        "solved": "SolvedPiece",
        "solving": "solve",
    },
    modules="schema",
)
