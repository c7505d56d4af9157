"""Deeds that write, killed or stopped at any moment, and what must hold then."""
