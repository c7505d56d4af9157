"""What must be set for a cut, and why one cannot be made."""
