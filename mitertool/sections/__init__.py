"""Sections: shapes with exact arcs, the catalogue that names them, how they lie; imports geometry and left of it."""

from mitertool.sections.catalogue import section
from mitertool.sections.lay import laid_by, lies_over, lies_safely
from mitertool.sections.section import DENSITY, Section

__all__ = ["DENSITY", "Section", "laid_by", "lies_over", "lies_safely", "section"]
