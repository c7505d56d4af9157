"""Practice: exercises drawn by lot from a shop's own saw and sections, with answer and working; knows saw."""

from mitertool.practice.drawn import USUAL, exercises
from mitertool.practice.exercise import Exercise, RightAnswer

__all__ = ["USUAL", "Exercise", "RightAnswer", "exercises"]
