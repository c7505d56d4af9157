"""What is keyed into a bar feed, and where the stop stands."""
