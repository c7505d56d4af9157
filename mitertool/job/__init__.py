"""The job: a TOML file read, and everything in it solved into one frozen answer; imports nest and left of it."""

from mitertool.job.how_many import how_many
from mitertool.job.model import FrameOrder, Job
from mitertool.job.read import load, load_list, one_frame
from mitertool.job.solution import Solution, SolvedPiece
from mitertool.job.solve import solve

__all__ = ["FrameOrder", "Job", "Solution", "SolvedPiece", "how_many", "load", "load_list", "one_frame", "solve"]
