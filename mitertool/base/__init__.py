"""Errors, named tolerances, safe names and whole files; knows nothing of metal and imports no other room."""
