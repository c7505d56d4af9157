"""Inputs with a fault put in by lot: files and arguments of every command."""
