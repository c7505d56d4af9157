"""A first piece judged, what to change, and what errors use up."""
