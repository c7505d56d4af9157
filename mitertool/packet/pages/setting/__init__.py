"""A setting of the saw: its steps in the order of doing, and pictures in which every number has its place."""
